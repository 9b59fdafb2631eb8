import { Injectable } from '@nestjs/common';
import { droppedOf, eachFigure, type MaterialFigures, withMeasured } from '#libs/materials';
import { invalid, notFound } from '../http/problems/catalogue.js';
import type { SqlWrite } from '../http/writes/work.js';
import { lotFacts } from './lot-facts.js';
import type { FiguresAt, MaterialRow } from './material-rows.js';
import type { BayFacts, IntakeFacts, LotRefs, PermitFacts, SiteFacts } from './site-facts.js';
import { SiteFactsRecords } from './site-facts.records.js';

type Sql = SqlWrite['sql'];

export type { BayFacts, FiguresAt, IntakeFacts, LotRefs, PermitFacts, SiteFacts };
export { measureOf, type SiteMeasure } from './measure.js';

/** What a material weighs as it lies, and who says so. */
export interface Density {
  kgM3: number;
  source: string;
}

/** What the other areas may know of sites, permits, materials, containers and instruments. */
@Injectable()
export class SiteFactsService {
  constructor(private readonly facts: SiteFactsRecords) {}

  /** A site; refuses (404) when there is none. Inside a transaction, give its `sql`. */
  async site(siteId: string, sql?: Sql): Promise<SiteFacts> {
    const site = await this.facts.site(siteId, sql);
    if (!site) throw notFound('site');
    return site;
  }

  /** The bay of that code at the site, or null. */
  async bay(siteId: string, bayCode: string): Promise<BayFacts | null> {
    return this.facts.bay(siteId, bayCode);
  }

  /** What each lot refers to, in the order of the lots. Refuses (422 at `/siteId`) when there is no such site. */
  async forIntake(siteId: string, lots: readonly LotRefs[]): Promise<IntakeFacts[]> {
    if (lots.length === 0) return [];
    const answer = await this.facts.intake(siteId, lots);
    if (!answer) throw invalid('/siteId', 'is no site of the programme');
    return lotFacts(answer, lots);
  }

  /** The permit valid at the site on the local day of a moment, or null. Inside a transaction, give its `sql`. */
  async permitAt(siteId: string, atMs: number, sql?: Sql): Promise<PermitFacts | null> {
    return this.facts.permitAt(siteId, atMs, sql);
  }

  /** Those of the ids that are thermometers of the site, retired ones included. */
  async thermometers(siteId: string, ids: readonly string[]): Promise<string[]> {
    return ids.length === 0 ? [] : this.facts.thermometers(siteId, ids);
  }

  /** Codes of the materials that are not retired. */
  async materialsInUse(): Promise<string[]> {
    return this.facts.materialsInUse();
  }

  /**
   * Figures of the materials named, or of all; retired ones included, since old batches hold them. For a site, what it had
   * measured itself by that moment goes before the programme's own list (`withMeasured` says how). Inside a transaction, give
   * its `sql`.
   */
  async materialFigures(
    codes?: readonly string[],
    at?: FiguresAt | null,
    sql?: Sql,
  ): Promise<MaterialFigures[]> {
    const rows = await this.facts.materials(codes ?? null, at ?? null, sql);
    return rows.map(figuresOf);
  }

  /** Of one material, as above; null where it is unknown. */
  async densityOf(materialCode: string, at: FiguresAt): Promise<Density | null> {
    const [material] = await this.materialFigures([materialCode], at);
    const figure = material?.bulkDensityKgM3;
    return figure ? { kgM3: figure.typical, source: figure.source } : null;
  }
}

function figuresOf({ figures, readings, ...row }: MaterialRow): MaterialFigures {
  const listed = eachFigure((figure) => {
    const known = figures[figure];
    return known ? { ...known, measuredOn: null } : null;
  });
  const measured = (readings ?? []).map(({ by, reference, ...reading }) => ({
    ...reading,
    source: `Measured at the site: ${by}${reference === null ? '' : ` (${reference})`}`,
  }));
  const published = { ...row, ...listed };
  const used = withMeasured(published, measured);
  const dropped = droppedOf(published, used);
  return dropped.length === 0 ? used : { ...used, dropped };
}
