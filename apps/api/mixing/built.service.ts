import { Injectable } from '@nestjs/common';
import {
  amountOf,
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
import { figureNames } from './figure-names.js';
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
    const parts = lines.flatMap(({ materialCode, massG, estimatedG, estimatedMl }) => {
      const material = figures.find(({ code }) => code === materialCode);
      return material ? { material, massG, estimatedG, estimatedMl } : [];
    });
    return { batch, leftAt, asOfMs, parts };
  }

  /** The permit that was in force at the yard as of the figures; null where none was. */
  async permitOf({ batch, asOfMs }: Built, sql?: Sql): Promise<PermitFacts | null> {
    return this.sites.permitAt(batch.siteId, asOfMs, sql);
  }
}

/** The parts with figures that can be, and what is not used of them. */
export function soundParts(parts: readonly MixPart[]): { sound: MixPart[]; contradicted: Contradicted[] } {
  return {
    sound: parts.map((part) => ({ ...part, material: soundOf(part.material) })),
    contradicted: parts.flatMap((part) => {
      const detail = unusedOf(part);
      return detail === null ? [] : [{ material: part.material.code, detail }];
    }),
  };
}

/** Where a figure cannot be at all, all of the material counts as unknown, so that one mistyped material hides no batch. */
export function soundOf(material: MaterialFigures): MaterialFigures {
  return canBeMixed(material) ? material : { ...material, ...eachFigure(() => null) };
}

function canBeMixed(material: MaterialFigures): boolean {
  try {
    mixOf([{ material, massG: 0, estimatedG: 0, estimatedMl: 0 }]);
    return true;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

/** Why figures that are known are not used; null where they are, or where too little is known to use them. */
function unusedOf(part: MixPart): string | null {
  const { material } = part;
  if (canBeMixed(material) && !('lacking' in termOf('carbonToNitrogen', part))) return null;
  const [first] = contradictionsIn(material.kind, material);
  if (first) return `${figureNames[first.figures[0]]} ${first.detail}`;
  const [dropped] = material.dropped ?? [];
  if (!dropped) return null;
  const { figure, listed, beside, measured } = dropped;
  return `the ${amountOf(beside, measured)} that was measured here cannot go with the ${amountOf(figure, listed)} that the list has, and nothing else says the C:N`;
}
