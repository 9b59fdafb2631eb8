import { Injectable } from '@nestjs/common';
import type { MaterialFigures, Measure } from '#libs/materials';
import { type PermitFacts, SiteFactsService } from '../sites/site-facts.service.js';
import { soundOf } from './built.service.js';
import { type StockCandidate, StockService } from './stock.service.js';

/** What may go into the batches of a yard now: out of its stock, and from elsewhere. */
export interface OnHand {
  permit: PermitFacts | null;
  /** Of every material, by code: one set of figures for all that is asked at once. */
  figures: ReadonlyMap<string, MaterialFigures>;
  candidates: StockCandidate[];
  /** What one may ask donors for. */
  obtainable: MaterialFigures[];
  /** Stock that the permit does not list. */
  notListed: MaterialFigures[];
  /** Stock of which only a volume is known. */
  unweighed: MaterialFigures[];
  /** The containers in which the yard measures out, by material. */
  measures: ReadonlyMap<string, Measure>;
}

@Injectable()
export class OnHandService {
  constructor(
    private readonly sites: SiteFactsService,
    private readonly stock: StockService,
  ) {}

  async at(siteId: string, atMs: number): Promise<OnHand> {
    const permit = await this.sites.permitAt(siteId, atMs);
    const materials = (await this.sites.materialFigures(undefined, { siteId, atMs })).map(soundOf);
    const figures = new Map(materials.map((material) => [material.code, material]));
    const inUse = new Set(await this.sites.materialsInUse());
    const { candidates, unweighed, measures } = await this.stock.candidates(siteId, figures);
    const isListed = listing(permit);
    return {
      ...{ permit, figures, unweighed, measures },
      candidates: candidates.filter(({ material }) => isListed(material)),
      obtainable: materials.filter((material) => inUse.has(material.code) && isObtainable(material, permit)),
      notListed: candidates.map(({ material }) => material).filter((material) => !isListed(material)),
    };
  }
}

/** Whether the permit lets a material in: it is asked of nothing where it lists none, and of water never. */
function listing(permit: PermitFacts | null): (material: MaterialFigures) => boolean {
  const codes = new Set(permit?.materials ?? []);
  return ({ code, kind }) => codes.size === 0 || kind === 'water' || codes.has(code);
}

/** What draws animals or carries pathogens is asked for only where the permit names it. */
function isObtainable(material: MaterialFigures, permit: PermitFacts | null): boolean {
  const { code, kind, traits } = material;
  if (kind !== 'organic' || !listing(permit)(material)) return false;
  const risky = traits.includes('animal-product') || traits.includes('raw-manure');
  return !risky || (permit?.materials.includes(code) ?? false);
}
