import { Injectable } from '@nestjs/common';
import {
  type MaterialFigure,
  type MaterialFigures,
  type Mix,
  type MixFigure,
  type MixPart,
  mixOf,
  type MixTarget,
  mixTargets,
  type Verification,
} from '#libs/materials';
import { kgOf, litresOf } from '#libs/quantities';
import type { SqlWrite } from '../http/writes/work.js';
import { Problem } from '../http/problems/catalogue.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { MixRecords } from './mix.records.js';

/** The mix of what went in, by the figures of its materials as they stand. Unknown is null, never a guess. */
export interface BatchMix {
  massKg: number;
  volumeL: number | null;
  carbonToNitrogen: number | null;
  moisturePercent: number | null;
  bulkDensityKgM3: number | null;
  freeAirSpacePercent: number | null;
  /** How much of the mass each figure rests on. */
  knownMassPercent: Record<MixFigure, number>;
  missing: { material: string; figure: MaterialFigure }[];
  targets: MixStanding[];
  materials: MixMaterial[];
}

export interface MixStanding extends MixTarget {
  value: number | null;
  state: 'within' | 'below' | 'above' | 'unknown';
}

export interface MixMaterial {
  code: string;
  name: string;
  massKg: number;
  nitrogenPercentDry: number | null;
  carbonToNitrogen: number | null;
  moisturePercent: number | null;
  bulkDensityKgM3: number | null;
  source: string;
  verification: Verification;
}

/** C:N to the last digit, as a rule is held against it. */
export interface ExactCarbon {
  /** Null where it is not known of every gram. */
  value: number | null;
  /** Codes of the materials whose figures are missing. */
  missing: string[];
}

@Injectable()
export class MixService {
  constructor(
    private readonly records: MixRecords,
    private readonly sites: SiteFactsService,
  ) {}

  async mix(batchId: string, sql?: SqlWrite['sql']): Promise<BatchMix> {
    const parts = await this.parts(batchId, sql);
    const mix = mixFrom(parts);
    return {
      massKg: kgOf(mix.massG),
      volumeL: mix.volumeMl === null ? null : litresOf(mix.volumeMl),
      carbonToNitrogen: rounded(mix.value.carbonToNitrogen),
      moisturePercent: rounded(mix.value.moisturePercent),
      bulkDensityKgM3: rounded(mix.value.bulkDensityKgM3),
      freeAirSpacePercent: rounded(mix.value.freeAirSpacePercent),
      knownMassPercent: {
        carbonToNitrogen: percentOf(mix.knownMassShare.carbonToNitrogen),
        moisturePercent: percentOf(mix.knownMassShare.moisturePercent),
        bulkDensityKgM3: percentOf(mix.knownMassShare.bulkDensityKgM3),
        freeAirSpacePercent: percentOf(mix.knownMassShare.freeAirSpacePercent),
      },
      missing: mix.missing.map(({ materialCode, figure }) => ({ material: materialCode, figure })),
      targets: mixTargets.map((target) => standingOf(target, mix.value[target.figure])),
      materials: parts.map(({ material, massG }) => ({
        ...figuresOf(material),
        massKg: kgOf(massG),
      })),
    };
  }

  /** A mix of nothing, or of figures that cannot be, has none. */
  async carbonToNitrogen(batchId: string, sql?: SqlWrite['sql']): Promise<ExactCarbon> {
    const parts = await this.parts(batchId, sql);
    try {
      const { value, knownMassShare, missing } = mixOf(parts);
      const of = missing.filter(({ figure }) => figure !== 'bulkDensityKgM3');
      if (knownMassShare.carbonToNitrogen === 1) return { value: value.carbonToNitrogen, missing: [] };
      return { value: null, missing: [...new Set(of.map(({ materialCode }) => materialCode))] };
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      return { value: null, missing: [] };
    }
  }

  private async parts(batchId: string, sql?: SqlWrite['sql']): Promise<MixPart[]> {
    const lines = await this.records.materials(batchId, sql);
    const figures = await this.sites.materialFigures(
      lines.map(({ materialCode }) => materialCode),
      sql,
    );
    return lines.flatMap(({ materialCode, massG, estimatedG }) => {
      const material = figures.find(({ code }) => code === materialCode);
      return material ? { material, massG, estimatedG } : [];
    });
  }
}

function figuresOf(material: MaterialFigures): Omit<MixMaterial, 'massKg'> {
  const { code, name, nitrogenPercentDry, carbonToNitrogen, moisturePercent, bulkDensityKgM3 } = material;
  const known = [nitrogenPercentDry, carbonToNitrogen, moisturePercent, bulkDensityKgM3].find(
    (one) => one !== null,
  );
  return {
    ...{ code, name },
    nitrogenPercentDry: nitrogenPercentDry?.typical ?? null,
    carbonToNitrogen: carbonToNitrogen?.typical ?? null,
    moisturePercent: moisturePercent?.typical ?? null,
    bulkDensityKgM3: bulkDensityKgM3?.typical ?? null,
    source: known?.source ?? 'No figure is known.',
    verification: known?.verification ?? 'derived',
  };
}

/** Figures of a material can be changed into what cannot be; that is theirs to mend, and no mix comes of it. */
function mixFrom(parts: readonly MixPart[]): Mix {
  try {
    return mixOf(parts);
  } catch (error) {
    throw error instanceof RangeError ? new Problem('conflict', error.message) : error;
  }
}

/** Judged by the exact figure; printed with one decimal. */
function standingOf(target: MixTarget, exact: number | null): MixStanding {
  const { min, max } = target;
  const value = rounded(exact);
  if (exact === null) return { ...target, value, state: 'unknown' };
  if (min !== null && exact < min) return { ...target, value, state: 'below' };
  return { ...target, value, state: max !== null && exact > max ? 'above' : 'within' };
}

function rounded(figure: number | null): number | null {
  return figure === null ? null : Math.round(figure * 10) / 10;
}

function percentOf(share: number): number {
  return Math.round(share * 1000) / 10;
}
