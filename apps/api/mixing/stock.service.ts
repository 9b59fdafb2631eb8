import { Injectable } from '@nestjs/common';
import type { Amount, Candidate, MaterialFigures, Measure } from '#libs/materials';
import { Clock } from '../http/clock.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { containerOf, type Standing, standingOf } from './standing.js';
import type { StockDto } from './stock.dto.js';
import { type StockLine, StockRecords } from './stock.records.js';
import { lineView } from './stock-view.js';

const WATER = 'water';

type Figures = ReadonlyMap<string, MaterialFigures>;

export interface StockCandidate extends Candidate {
  readonly measure: Standing['measure'];
}

/** What can be added of what lies at a yard, and what cannot since nobody knows what it weighs. */
export interface StockToAdd {
  candidates: StockCandidate[];
  unweighed: MaterialFigures[];
  /** The containers in which the yard measures out, by material. */
  measures: ReadonlyMap<string, Measure>;
}

/** So much of a material lies there; what is not known of it is null. */
export interface Lying extends Amount {
  measure: Measure | null;
}

@Injectable()
export class StockService {
  constructor(
    private readonly stock: StockRecords,
    private readonly sites: SiteFactsService,
    private readonly clock: Clock,
  ) {}

  /** What lay at the yard before a moment (null: what lies there now), material by material. */
  async ofSite(siteId: string, before: Date | null = null): Promise<StockDto> {
    const site = await this.sites.site(siteId);
    const atMs = before?.getTime() ?? this.clock.nowMs();
    const lines = await this.stock.standing(site.id, before);
    const codes = lines.map((line) => line.materialCode);
    const figures = await this.sites.materialFigures(codes, { siteId: site.id, atMs });
    const byCode: Figures = new Map(figures.map((material) => [material.code, material]));
    const standing = lines.map((line) => standingOf(line, byCode.get(line.materialCode)));
    const now = { atMs, timeZone: site.timeZone };
    return {
      siteId: site.id,
      asOf: new Date(atMs).toISOString(),
      items: standing.map((one) => lineView(one, now)),
    };
  }

  /**
   * What may be added to a batch of the yard now: what was counted and is not retired, and water, which is there without
   * limit unless it was counted. `figures` are of every material.
   */
  async candidates(siteId: string, figures: Figures): Promise<StockToAdd> {
    const lines = await this.stock.standing(siteId);
    const standing = lines
      .filter(({ retired }) => !retired)
      .flatMap((line) => {
        const material = figures.get(line.materialCode);
        return material ? [{ ...standingOf(line, material), material }] : [];
      });
    const counted = standing.filter(({ leftG }) => leftG !== null).map(candidateOf);
    const unweighed = standing.filter(({ leftG }) => leftG === null).map(({ material }) => material);
    const measures = measuresOf(lines);
    const water = figures.get(WATER);
    if (!water || lines.some(({ materialCode }) => materialCode === WATER))
      return { candidates: counted, unweighed, measures };
    const fromTheTap = { material: water, availableG: null, costPerKg: null, measure: null };
    return { candidates: [...counted, fromTheTap], unweighed, measures };
  }

  /** What is left by the last count of each material that was ever counted, and what it is measured out in. */
  async lying(siteId: string, figures: Figures): Promise<Map<string, Lying>> {
    const lines = await this.stock.standing(siteId);
    return new Map(
      lines.map((line) => {
        const { leftG, leftMl, measure } = standingOf(line, figures.get(line.materialCode));
        const lying = { massG: leftG, volumeMl: leftMl, measure: measure && measureOf(measure) };
        return [line.materialCode, lying] as const;
      }),
    );
  }
}

function measuresOf(lines: readonly StockLine[]): Map<string, Measure> {
  return new Map(
    lines.flatMap((line) => {
      const container = containerOf(line);
      return container ? [[line.materialCode, measureOf(container)] as const] : [];
    }),
  );
}

function candidateOf({
  line,
  leftG,
  measure,
  material,
}: Standing & { material: MaterialFigures }): StockCandidate {
  const { costPerKg } = line;
  return { material, availableG: leftG, costPerKg, measure };
}

const measureOf = ({ code, volumeMl }: NonNullable<Standing['measure']>): Measure => ({ code, volumeMl });
