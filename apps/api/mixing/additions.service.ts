import { Injectable } from '@nestjs/common';
import { type Candidate, type MaterialFigures, targetsAsked } from '#libs/materials';
import { type PermitFacts, SiteFactsService } from '../sites/site-facts.service.js';
import type { AdditionsDto, AdditionsQuery } from './additions.dto.js';
import { additionsView, closedView } from './additions-view.js';
import type { Ask, Asked } from './asked.js';
import { BuiltService, faultOf, soundParts } from './built.service.js';
import { permitTargets } from './mix-view.js';
import { SolverService } from './solver.service.js';
import { StockService } from './stock.service.js';

@Injectable()
export class AdditionsService {
  constructor(
    private readonly built: BuiltService,
    private readonly stock: StockService,
    private readonly sites: SiteFactsService,
    private readonly solver: SolverService,
  ) {}

  /** What to add to a batch so that its figures come into range. Refuses (404) where there is no such batch. */
  async additions(batchId: string, query: AdditionsQuery): Promise<AdditionsDto> {
    const { leastBy = 'mass', grade = 'reasonable' } = query;
    const asked = await this.asked(batchId, { leastBy, grade });
    const { batch, leftAt } = asked.built;
    if (leftAt !== null) return closedView(asked);
    const answer = await this.solver.additions(asked.question);
    const bay = batch.bayCode === null ? null : await this.sites.bay(batch.siteId, batch.bayCode);
    return additionsView(asked, answer, bay);
  }

  /** The question that a batch puts, with the stock of its yard. */
  async asked(batchId: string, ask: Ask): Promise<Asked> {
    const built = await this.built.built(batchId);
    const permit = await this.built.permitOf(built);
    const { batch, asOfMs } = built;
    const { sound: parts, contradicted } = soundParts(built.parts);
    const listed = listing(permit);
    const place = { siteId: batch.siteId, atMs: asOfMs };
    const inUse = new Set(await this.sites.materialsInUse());
    const all = await this.sites.materialFigures(undefined, place);
    // A code has one set of figures in one question.
    const figures = new Map([...all, ...parts.map(({ material }) => material)].map((one) => [one.code, one]));
    const stock = (await this.stock.candidates(batch.siteId, place)).map((candidate): Candidate => {
      const { code } = candidate.material;
      return { ...candidate, material: figures.get(code) ?? candidate.material };
    });
    const candidates = stock.filter(({ material }) => faultOf(material) === null && listed(material));
    const obtainable = [...figures.values()].filter(
      (material) => inUse.has(material.code) && faultOf(material) === null && isObtainable(material, permit),
    );
    const targets = targetsAsked(permitTargets(permit), ask.grade);
    const notListed = stock.map(({ material }) => material).filter((material) => !listed(material));
    const question = { parts, candidates, targets, leastBy: ask.leastBy, obtainable };
    return { built, permit, question, contradicted, notListed, ask };
  }
}

/** Whether the permit lets a material in: it is asked of nothing where it lists none, and of water never. */
function listing(permit: PermitFacts | null): (material: MaterialFigures) => boolean {
  const codes = new Set(permit?.materials ?? []);
  return ({ code, kind }) => codes.size === 0 || kind === 'water' || codes.has(code);
}

/** What one may ask donors for. What draws animals or carries pathogens is asked for only where the permit names it. */
export function isObtainable(material: MaterialFigures, permit: PermitFacts | null): boolean {
  const { code, kind, traits } = material;
  if (kind !== 'organic' || !listing(permit)(material)) return false;
  const risky = traits.includes('animal-product') || traits.includes('raw-manure');
  return !risky || (permit?.materials.includes(code) ?? false);
}
