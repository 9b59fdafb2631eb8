import { Injectable } from '@nestjs/common';
import {
  contradictionsIn,
  eachFigure,
  type MaterialFigures,
  mixOf,
  type MixPart,
  termOf,
} from '#libs/materials';
import { BatchesService, type BatchNow } from '../batches/batches.service.js';
import { Clock } from '../http/clock.js';
import type { SqlWrite } from '../http/writes/work.js';
import { type PermitFacts, SiteFactsService } from '../sites/site-facts.service.js';
import { MixRecords } from './mix.records.js';

type Sql = SqlWrite['sql'];

/** What a batch is built of: what went in until it left `building`, with the figures of its materials as of then. */
export interface Built {
  batch: BatchNow;
  /** When it left `building`; null while it is built. */
  leftAt: Date | null;
  /** Moment that the figures are of. */
  asOfMs: number;
  parts: MixPart[];
}

/** Figures of a material that cannot be together. */
export interface Contradicted {
  material: string;
  detail: string;
}

@Injectable()
export class BuiltService {
  constructor(
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly records: MixRecords,
    private readonly sites: SiteFactsService,
  ) {}

  /** Refuses (404) where there is no such batch. Inside a transaction, give its `sql`. */
  async built(batchId: string, sql?: Sql): Promise<Built> {
    const batch = await this.batches.find(batchId, sql);
    const leftAt = batch.stages.find(({ stage }) => stage !== 'building')?.enteredAt ?? null;
    const asOfMs = leftAt?.getTime() ?? this.clock.nowMs();
    const lines = await this.records.materials(batchId, leftAt, sql);
    const codes = lines.map(({ materialCode }) => materialCode);
    const at = { siteId: batch.siteId, atMs: asOfMs };
    const figures = await this.sites.materialFigures(codes, at, sql);
    const parts = lines.flatMap(({ materialCode, massG, estimatedG }) => {
      const material = figures.find(({ code }) => code === materialCode);
      return material ? { material, massG, estimatedG } : [];
    });
    return { batch, leftAt, asOfMs, parts };
  }

  /** The permit that was in force at the yard as of the figures; null where none was. */
  async permitOf({ batch, asOfMs }: Built, sql?: Sql): Promise<PermitFacts | null> {
    return this.sites.permitAt(batch.siteId, asOfMs, sql);
  }
}

/** The parts with figures that cannot be taken as unknown, so that one mistyped material hides no batch; and which. */
export function soundParts(parts: readonly MixPart[]): { sound: MixPart[]; contradicted: Contradicted[] } {
  const contradicted: Contradicted[] = [];
  const sound = parts.map((part) => {
    const { material } = part;
    const impossible = faultOf(material);
    const detail = impossible ?? unusedOf(part);
    if (detail !== null) contradicted.push({ material: material.code, detail });
    return impossible === null ? part : { ...part, material: { ...material, ...eachFigure(() => null) } };
  });
  return { sound, contradicted };
}

/** Why no mix can be made of the material; null where one can. */
export function faultOf(material: MaterialFigures): string | null {
  try {
    mixOf([{ material, massG: 0, estimatedG: 0 }]);
    return null;
  } catch (error) {
    if (error instanceof RangeError) return error.message;
    throw error;
  }
}

/** Why no balance comes of figures that are known; null where one does, or where too little is known for it. */
function unusedOf(part: MixPart): string | null {
  if (!('lacking' in termOf('carbonToNitrogen', part))) return null;
  const [first] = contradictionsIn(part.material.kind, part.material);
  return first ? `${first.figures[0]} ${first.detail}` : null;
}
