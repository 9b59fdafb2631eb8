import { Injectable } from '@nestjs/common';
import { type LoggerSeries, type ProbeTerms, probeTermsOf } from '#libs/process';
import type { AnyWrite } from '../http/writes/work.js';
import { type ProbeSpan, SeriesRecords } from './series.records.js';

type Sql = AnyWrite['sql'];

/** Instants are epoch milliseconds. */
export interface AskedSpan {
  fromMs?: number;
  /** Included. */
  throughMs: number;
}

const EARLIEST_MS = Date.UTC(2000, 0, 1);

/** What the loggers of one batch show, asked for rule by rule and remembered for rules that look at probes alike. */
export class BatchSeries {
  private readonly known = new Map<string, LoggerSeries[]>();

  constructor(
    private readonly service: LoggerSeriesService,
    private readonly batchId: string,
    private readonly asked: AskedSpan,
  ) {}

  async under(rule: ProbeTerms, sql?: Sql): Promise<LoggerSeries[]> {
    const terms = probeTermsOf(rule);
    const key = JSON.stringify(terms);
    const series = this.known.get(key) ?? (await this.service.series(this.batchId, terms, this.asked, sql));
    this.known.set(key, series);
    return series;
  }
}

/** What loggers show of a batch. Which readings are of it is decided now: stays in a bay may be typed in later. */
@Injectable()
export class LoggerSeriesService {
  constructor(private readonly records: SeriesRecords) {}

  /** Which probes told of a batch and when, logger by logger. Inside a transaction, give its `sql`. */
  spans(batchId: string, { fromMs = EARLIEST_MS, throughMs }: AskedSpan, sql?: Sql): Promise<ProbeSpan[]> {
    return this.records.spans(batchId, new Date(fromMs), new Date(throughMs + 1), sql);
  }

  ofBatch(batchId: string, asked: AskedSpan): BatchSeries {
    return new BatchSeries(this, batchId, asked);
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
