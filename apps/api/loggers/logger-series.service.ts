import { Injectable } from '@nestjs/common';
import { type LoggerSeries, type ProbeTerms, probeTermsOf } from '#libs/process';
import type { AnyWrite } from '../http/writes/work.js';
import { type ProbeSpan, SeriesRecords } from './series.records.js';

type Sql = AnyWrite['sql'];

export type { ProbeSpan };

/** Instants are epoch milliseconds. */
export interface AskedSpan {
  /** From the beginning, where it is left out. */
  fromMs?: number | undefined;
  /** Included. */
  throughMs: number;
}

const EARLIEST_MS = Date.UTC(2000, 0, 1);

/** What loggers show of a batch. Which readings are of it is decided now: stays in a bay may be typed in later. */
@Injectable()
export class LoggerSeriesService {
  constructor(private readonly records: SeriesRecords) {}

  ofBatch(batchId: string, throughMs: number): BatchSeries {
    return new BatchSeries(this, batchId, throughMs);
  }

  /** Which probes told of a batch and when, logger by logger. Inside a transaction, give its `sql`. */
  spans(batchId: string, { fromMs = EARLIEST_MS, throughMs }: AskedSpan, sql?: Sql): Promise<ProbeSpan[]> {
    return this.records.spans(batchId, new Date(fromMs), new Date(throughMs + 1), sql);
  }

  /** One series a logger, as a rule looks at its probes. One statement after the other: a transaction has one connection. */
  async series(batchId: string, rule: ProbeTerms, asked: AskedSpan, sql?: Sql): Promise<LoggerSeries[]> {
    const terms = probeTermsOf(rule);
    const byDevice = new Map<string, ProbeSpan[]>();
    for (const span of await this.spans(batchId, asked, sql)) {
      byDevice.set(span.deviceId, [...(byDevice.get(span.deviceId) ?? []), span]);
    }
    const series: LoggerSeries[] = [];
    for (const spans of byDevice.values()) {
      const one = await this.records.series(spans[0]?.logger ?? '', spans, terms, sql);
      if (one.atMs.length > 0) series.push(one);
    }
    return series;
  }
}

/** What the loggers of one batch show up to one instant; what was asked for once is remembered. */
export class BatchSeries {
  private readonly known = new Map<string, Promise<unknown>>();

  constructor(
    private readonly service: LoggerSeriesService,
    private readonly batchId: string,
    private readonly throughMs: number,
  ) {}

  under(rule: ProbeTerms, sql?: Sql, fromMs?: number): Promise<LoggerSeries[]> {
    const terms = probeTermsOf(rule);
    const asked = { fromMs, throughMs: this.throughMs };
    return this.once({ terms, fromMs }, () => this.service.series(this.batchId, terms, asked, sql));
  }

  /** Which probes told of it, and how much, up to an instant no later than that of this. */
  spans(sql?: Sql, throughMs = this.throughMs): Promise<ProbeSpan[]> {
    return this.once({ throughMs }, () => this.service.spans(this.batchId, { throughMs }, sql));
  }

  private once<T>(asked: object, ask: () => Promise<T>): Promise<T> {
    const key = JSON.stringify(asked);
    const known = (this.known.get(key) as Promise<T> | undefined) ?? ask();
    this.known.set(key, known);
    return known;
  }
}
