import { Injectable } from '@nestjs/common';
import type { Candidate, MaterialFigures, Measure } from '#libs/materials';
import { estimateMassG, kgOf, litresOf } from '#libs/quantities';
import { Clock } from '../http/clock.js';
import type { SqlWrite } from '../http/writes/work.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { kgWords, litresWords } from './portions.js';
import type { StockDto, StockLineDto } from './stock.dto.js';
import { type StockLine, StockRecords } from './stock.records.js';

type Sql = SqlWrite['sql'];

const DAY_MS = 86_400_000;
const WATER = 'water';

/** What lies at a yard: what was counted last, less what was taken from it since. */
interface Standing {
  line: StockLine;
  countedG: number | null;
  leftG: number | null;
  leftMl: number | null;
  beyondG: number;
  measure: (Measure & { containerId: string }) | null;
}

@Injectable()
export class StockService {
  constructor(
    private readonly stock: StockRecords,
    private readonly sites: SiteFactsService,
    private readonly clock: Clock,
  ) {}

  /** What lies at the yard now, material by material. */
  async ofSite(siteId: string): Promise<StockDto> {
    await this.sites.site(siteId);
    const atMs = this.clock.nowMs();
    const standing = await this.standing(siteId, atMs);
    return {
      siteId,
      asOf: new Date(atMs).toISOString(),
      items: standing.map((one) => lineView(one, atMs)),
    };
  }

  /**
   * What may be added to a batch of the yard at that moment: what was counted and is not retired, and water, which is
   * there without limit unless it was counted. What only has a volume and no density is left out: how much of it there
   * is cannot be said.
   */
  async candidates(siteId: string, { atMs }: { atMs: number }, sql?: Sql): Promise<Candidate[]> {
    const standing = (await this.standing(siteId, atMs, sql)).filter(({ line }) => !line.retired);
    const known = standing.filter(({ leftG }) => leftG !== null);
    const codes = new Set([...known.map(({ line }) => line.materialCode), WATER]);
    const figures = new Map(await this.figures([...codes], { siteId, atMs }, sql));
    const counted = known.flatMap(({ line, leftG, measure }) => {
      const material = figures.get(line.materialCode);
      if (!material) return [];
      return { material, availableG: leftG, costPerKg: line.costPerKg, measure: measureOf(measure) };
    });
    const water = figures.get(WATER);
    if (!water || standing.some(({ line }) => line.materialCode === WATER)) return counted;
    return [...counted, { material: water, availableG: null, costPerKg: null, measure: null }];
  }

  /** The containers in which the yard measures out, by material. */
  async measures(siteId: string, atMs: number): Promise<Map<string, Measure>> {
    const lines = await this.stock.standing(siteId, new Date(atMs));
    return new Map(
      lines.flatMap((line) => {
        const measure = measureOf(containerOf(line));
        return measure ? [[line.materialCode, measure] as const] : [];
      }),
    );
  }

  private async standing(siteId: string, atMs: number, sql?: Sql): Promise<Standing[]> {
    const lines = await this.stock.standing(siteId, new Date(atMs), sql);
    const without = lines.filter(({ densityKgM3 }) => densityKgM3 === null).map((line) => line.materialCode);
    const figures = new Map(await this.figures(without, { siteId, atMs }, sql));
    return lines.map((line) => standingOf(line, figures.get(line.materialCode)));
  }

  private async figures(
    codes: readonly string[],
    at: { siteId: string; atMs: number },
    sql?: Sql,
  ): Promise<[string, MaterialFigures][]> {
    if (codes.length === 0) return [];
    const figures = await this.sites.materialFigures(codes, at, sql);
    return figures.map((material) => [material.code, material]);
  }
}

/** A volume goes by the density of its count; one of which none was known then goes by what is known now. */
function standingOf(line: StockLine, material: MaterialFigures | undefined): Standing {
  const { massG, volumeMl, usedG } = line;
  const density = line.densityKgM3 ?? material?.bulkDensityKgM3?.typical ?? null;
  const countedG = massG ?? (density === null ? null : estimateMassG(volumeMl ?? 0, density));
  const leftG = countedG === null ? null : Math.max(0, countedG - usedG);
  const beyondG = countedG === null ? 0 : Math.max(0, usedG - countedG);
  const leftMl = volumeMl !== null && usedG === 0 ? volumeMl : volumeOf(leftG, density);
  return { line, countedG, leftG, leftMl, beyondG, measure: containerOf(line) };
}

const volumeOf = (massG: number | null, densityKgM3: number | null): number | null =>
  massG === null || densityKgM3 === null ? null : Math.round((massG / densityKgM3) * 1000);

function containerOf({ containerId, containerCode, containerMl }: StockLine): Standing['measure'] {
  if (containerId === null || containerCode === null || containerMl === null) return null;
  return { containerId, code: containerCode, volumeMl: containerMl };
}

const measureOf = (measure: Standing['measure']): Measure | null =>
  measure && { code: measure.code, volumeMl: measure.volumeMl };

const kgOrNull = (massG: number | null) => (massG === null ? null : kgOf(massG));
const litresOrNull = (volumeMl: number | null) => (volumeMl === null ? null : litresOf(volumeMl));

function lineView(standing: Standing, atMs: number): StockLineDto {
  const { line, countedG, leftG, leftMl, beyondG, measure } = standing;
  return {
    material: line.materialCode,
    name: line.name,
    countId: line.countId,
    countedAt: line.countedAt.toISOString(),
    countedDaysAgo: daysAgo(line, atMs),
    basis: line.basis,
    countedKg: kgOrNull(countedG),
    countedL: litresOrNull(line.volumeMl),
    usedKg: kgOf(line.usedG),
    leftKg: kgOrNull(leftG),
    leftL: litresOrNull(leftMl),
    usedBeyondCountKg: kgOf(beyondG),
    measure: measure && {
      containerId: measure.containerId,
      container: measure.code,
      volumeL: litresOf(measure.volumeMl),
    },
    costPerKg: line.costPerKg,
    retired: line.retired,
    text: textOf(standing, atMs),
  };
}

const daysAgo = ({ countedAt }: StockLine, atMs: number) =>
  Math.max(0, Math.floor((atMs - countedAt.getTime()) / DAY_MS));

function textOf({ line, leftG, leftMl, beyondG }: Standing, atMs: number): string {
  const amounts = [
    ...(leftG === null ? [] : [kgWords(leftG)]),
    ...(leftMl === null ? [] : [`${leftG === null ? '' : 'about '}${litresWords(leftMl)}`]),
  ];
  const left = amounts.length === 0 ? 'an unknown amount' : amounts.join(', ');
  const days = daysAgo(line, atMs);
  const age = days === 0 ? 'today' : `${days} ${days === 1 ? 'day' : 'days'} ago`;
  const beyond = `${kgWords(beyondG)} more was used than had been counted: count it again.`;
  const unknown = 'How much it weighs is not known, since its density is not: weigh it, or add its density.';
  return [
    `${left} left, by the count of ${age}.`,
    ...(beyondG > 0 ? [beyond] : []),
    ...(leftG === null ? [unknown] : []),
  ].join(' ');
}
