import { Injectable } from '@nestjs/common';
import {
  type AdditionsQuestion,
  type Ask,
  asksOf,
  type HandedOut,
  type MaterialFigures,
  type Measure,
  type WantedMaterial,
} from '#libs/materials';
import { kgOf, litresOf } from '#libs/quantities';
import { Clock } from '../http/clock.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { AdditionsService } from './additions.service.js';
import { SolverService } from './solver.service.js';
import { StockService } from './stock.service.js';
import type { WantedDto, WantedMaterialDto } from './wanted.dto.js';
import { type BuildingBatch, WantedRecords } from './wanted.records.js';
import { wantedWords } from './wanted-words.js';

const SERVED = new Set(['in-range', 'found']);

/** Nobody brings these: they are made at yards. */
const OF_YARDS = new Set(['overs', 'finished-compost']);

type Answers = HandedOut<BuildingBatch>['answers'];

/** With what it is told: the materials that may be asked for, and what the yard measures out in. */
interface Known {
  figures: Map<string, MaterialFigures>;
  measures: Map<string, Measure>;
}

/** What to ask donors for: what the batches of a yard lack beyond its stock, which is handed out batch by batch. */
@Injectable()
export class WantedService {
  constructor(
    private readonly records: WantedRecords,
    private readonly additions: AdditionsService,
    private readonly solver: SolverService,
    private readonly stock: StockService,
    private readonly sites: SiteFactsService,
    private readonly clock: Clock,
  ) {}

  async ofSite(siteId: string): Promise<WantedDto> {
    const site = await this.sites.site(siteId);
    const atMs = this.clock.nowMs();
    const { answers, figures } = await this.answers(siteId);
    const { asks } = asksOf(answers);
    const known = { figures, measures: await this.stock.measures(siteId, atMs) };
    const isServed = answers.every(({ answer }) => SERVED.has(answer.state));
    return {
      siteId,
      asOf: new Date(atMs).toISOString(),
      batches: answers.map(({ key, answer }) => ({ ...key, state: answer.state })),
      asks: asks.map((ask) => askView(ask, known)),
      text: wantedWords(site.name, { asks, isServed }, (code) => named(figures, code)),
    };
  }

  /** What each batch that is being built lacks, in order of code. */
  private async answers(siteId: string): Promise<{ answers: Answers; figures: Known['figures'] }> {
    const batches: ({ key: BuildingBatch } & AdditionsQuestion)[] = [];
    for (const key of await this.records.building(siteId)) {
      const { question } = await this.additions.asked(key.id, { leastBy: 'mass', grade: 'reasonable' });
      batches.push({ key, ...question });
    }
    // They all draw on one stock, and may be brought the same.
    const [first] = batches;
    if (!first) return { answers: [], figures: new Map() };
    const { candidates, leastBy } = first;
    const obtainable = first.obtainable.filter(({ code }) => !OF_YARDS.has(code));
    const { answers } = await this.solver.handOut(batches, { candidates, leastBy, obtainable });
    const materials = [...candidates.map(({ material }) => material), ...obtainable];
    return { answers, figures: new Map(materials.map((material) => [material.code, material])) };
  }
}

function named(figures: Known['figures'], code: string): MaterialFigures {
  const material = figures.get(code);
  if (!material) throw new Error(`${code} was asked for and not offered`);
  return material;
}

function askView({ keys, anyOf, allOf }: Ask<BuildingBatch>, known: Known): WantedDto['asks'][number] {
  return {
    batches: keys.map(({ code }) => code),
    anyOf: anyOf.map((wanted) => wantedView(wanted, known)),
    allOf: allOf.map((wanted) => wantedView(wanted, known)),
  };
}

/** In the container that the yard counts it in or, of what it never counts, in the first that it counts anything in. */
function wantedView(
  { materialCode, massG, volumeMl }: WantedMaterial,
  { figures, measures }: Known,
): WantedMaterialDto {
  const measure = measures.get(materialCode) ?? [...measures.values()][0];
  return {
    material: materialCode,
    name: named(figures, materialCode).name,
    massKg: kgOf(massG),
    volumeL: volumeMl === null ? null : litresOf(volumeMl),
    measured:
      measure === undefined || volumeMl === null
        ? null
        : {
            container: measure.code,
            volumeL: litresOf(measure.volumeMl),
            count: Math.ceil((volumeMl * 2) / measure.volumeMl) / 2,
          },
  };
}
