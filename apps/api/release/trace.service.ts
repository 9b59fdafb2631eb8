import { Injectable } from '@nestjs/common';
import {
  batchSource,
  type BatchWeb,
  type Composition,
  compositionsOf,
  fromBatch,
  partsOf,
  reachedBy,
} from '#libs/accounting';
import { kgOf, sumG } from '#libs/quantities';
import { Clock } from '../http/clock.js';
import { notFound } from '../http/problems/catalogue.js';
import type { SqlWrite } from '../http/writes/work.js';
import type { BatchTraceDto, DistributionTraceDto, DropOffTraceDto } from './trace.dto.js';
import { type BatchFacts, type Link, type LotFacts, TraceRecords } from './trace.records.js';
import { factOf, forwardView, lotView, sourceOf, sourcesView, told } from './trace-views.js';

type Sql = SqlWrite['sql'];

/** All that leads into some batches, and those batches themselves. */
interface Web extends BatchWeb<Link> {
  facts: ReadonlyMap<string, BatchFacts>;
}

/** A trace with what is known of the batches in it. */
export interface Placed<T> {
  trace: T;
  facts: ReadonlyMap<string, BatchFacts>;
}

/**
 * Where things went and where they came from, as of one moment. The database walks the web of batches; the grams are worked
 * out from its rows by `libs/accounting`, as docs/accounting.md §9 tells.
 */
@Injectable()
export class TraceService {
  constructor(
    private readonly clock: Clock,
    private readonly records: TraceRecords,
  ) {}

  /** A drop-off on to every batch and every distribution. Refuses (404) where there is none. */
  dropOff(id: string): Promise<Placed<DropOffTraceDto> & { lot: LotFacts }> {
    return this.records.snapshot(async (sql) => {
      const [lot] = await this.records.lots(sql, [id]);
      if (!lot) throw notFound('drop-off');
      const first = await this.records.batchesOf(sql, id);
      const web = await this.web(sql, await this.records.reached(sql, first));
      const trace = {
        ...told(this.clock.nowMs()),
        dropOff: lotView(lot),
        ...(await this.forward(sql, web, id)),
      };
      return { trace, lot, facts: web.facts };
    });
  }

  /** A batch on to every batch and every distribution, and back to every source. Refuses (404) where there is none. */
  batch(id: string): Promise<Placed<BatchTraceDto>> {
    return this.records.snapshot(async (sql) => {
      const web = await this.web(sql, await this.records.reached(sql, [id]));
      const { code, siteCode } = factOf(web.facts, id);
      const leading = new Set(await this.records.ledFrom(sql, [id]));
      const inputs = web.inputs.filter(({ batchId }) => leading.has(batchId));
      const composition = compositionsOf(web).get(id) ?? new Map<string, number>();
      const trace = {
        ...told(this.clock.nowMs()),
        ...{ id, code, site: siteCode, inputKg: kgOf(sumG(composition.values())) },
        ...(await this.forward(sql, { ...web, ...fromBatch(web, id) }, batchSource(id))),
        ...(await this.sources(sql, composition, inputs, web.facts)),
      };
      return { trace, facts: web.facts };
    });
  }

  /** A distribution back to every drop-off and to what came from stock. Refuses (404) where there is none that stands. */
  distribution(id: string): Promise<DistributionTraceDto> {
    return this.records.snapshot(async (sql) => {
      const handedOut = await this.records.distribution(sql, id);
      if (!handedOut) throw notFound('distribution');
      const { batchId, occurredAt, recipient, use, massG } = handedOut;
      const web = await this.web(sql, [batchId]);
      const { code, siteCode } = factOf(web.facts, batchId);
      const parts = partsOf(massG, compositionsOf(web).get(batchId) ?? new Map<string, number>(), batchId);
      const others = [...web.facts.values()].filter((batch) => batch.id !== batchId);
      return {
        ...told(this.clock.nowMs()),
        ...{ id, code: handedOut.code, batchId, batch: code, site: siteCode, recipient, use },
        occurredAt: occurredAt.toISOString(),
        massKg: kgOf(massG),
        ledFrom: others.map((batch) => batch.code).toSorted(),
        ...(await this.sources(sql, parts, web.inputs, web.facts)),
      };
    });
  }

  private async web(sql: Sql, batchIds: readonly string[]): Promise<Web> {
    const all = await this.records.ledFrom(sql, batchIds);
    const facts = await this.records.batches(sql, all);
    return {
      inputs: await this.records.inputs(sql, all),
      links: await this.records.links(sql, all),
      facts: new Map(facts.map((batch) => [batch.id, batch])),
    };
  }

  private async forward(sql: Sql, { inputs, links, facts }: Web, sourceId: string) {
    const reached = reachedBy({ inputs, links }, sourceId);
    const handedOut = await this.records.handedOut(
      sql,
      reached.map(({ batchId }) => batchId),
    );
    return forwardView({ reached, facts, handedOut }, sourceId);
  }

  private async sources(sql: Sql, parts: Composition, inputs: Web['inputs'], batches: Web['facts']) {
    const named = [...parts.keys()].map(sourceOf);
    const keysOf = (wanted: string) => named.filter(({ kind }) => kind === wanted).map(({ key }) => key);
    const lots = await this.records.lots(sql, keysOf('drop-off'));
    const stock = await this.records.stock(sql, keysOf('stock'));
    const all = new Set(inputs.map(({ sourceId }) => sourceId));
    const names = {
      lots: new Map(lots.map((lot) => [lot.id, lot])),
      stock: new Map(stock.map((material) => [material.code, material])),
      batches,
    };
    const lesserSources = [...all].filter((sourceId) => !parts.has(sourceId)).length;
    return { sources: sourcesView(parts, names), lesserSources };
  }
}
