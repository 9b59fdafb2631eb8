import type { MaterialTrait, MixFigure } from '#libs/materials';
import type { Mass } from '#libs/quantities';

export interface SiteFacts {
  id: string;
  code: string;
  name: string;
  timeZone: string;
  jurisdictionId: string;
  takesDropOffs: boolean;
  runsBatches: boolean;
  /** Local day, "2026-03-01". */
  openedOn: string | null;
}

export interface BayFacts {
  id: string;
  siteId: string;
  code: string;
  /** Null where nobody said how much it holds. */
  capacityMl: number | null;
}

/** What a lot refers to; ids and codes may name nothing. */
export interface LotRefs {
  materialCode?: string | undefined;
  jurisdictionId?: string | undefined;
  containerId?: string | undefined;
  instrumentId?: string | undefined;
  atMs: number;
}

export interface IntakeFacts {
  site: Pick<SiteFacts, 'id' | 'code' | 'timeZone' | 'jurisdictionId' | 'takesDropOffs' | 'openedOn'>;
  material: {
    code: string;
    name: string;
    class: string;
    traits: MaterialTrait[];
    bulkDensityKgM3: number | null;
    /** Where that density comes from; null where it is unknown. */
    densitySource: string | null;
    retired: boolean;
  } | null;
  /** True as well when the lot names no jurisdiction. */
  jurisdictionKnown: boolean;
  container: {
    id: string;
    siteId: string;
    code: string;
    tareG: number;
    volumeMl: number | null;
    retired: boolean;
  } | null;
  instrument: {
    id: string;
    siteId: string;
    kind: string;
    /** The division as it was entered, which grams cannot always tell exactly. */
    division: Mass | null;
    retired: boolean;
  } | null;
  /** The permit of the site on the local day of the lot. One that lists no materials allows all. */
  permit: { id: string; reference: string; allowsMaterial: boolean } | null;
}

/** All that some lots of one site name, each thing once; null stands for none. */
export interface IntakeAnswer {
  site: IntakeFacts['site'];
  materials: NonNullable<IntakeFacts['material']>[] | null;
  jurisdictions: string[];
  containers: NonNullable<IntakeFacts['container']>[] | null;
  instruments: NonNullable<IntakeFacts['instrument']>[] | null;
  /** Every permit of the site. */
  permits:
    | { id: string; reference: string; validFrom: string; validTo: string | null; materials: string[] }[]
    | null;
  /** The local day of each lot. */
  days: string[];
}

export interface PermitFacts {
  id: string;
  siteId: string;
  reference: string;
  /** First and last local day, "2026-03-01"; open-ended without a last one. */
  validFrom: string;
  validTo: string | null;
  processRule: string | null;
  processReading: 'consecutive' | 'cumulative' | null;
  /** Codes of rules that a batch must meet besides. */
  furtherRules: string[];
  minimumProbes: number | null;
  longestGapHours: number | null;
  cureDays: number | null;
  cureReheatDeciC: number | null;
  storedVolumeMaxMl: number | null;
  yearlyMassMaxG: number | null;
  /** "07-01": on which day the year of that mass begins. */
  massYearStart: string;
  weeklyMassMaxG: number | null;
  requiredSamples: string[];
  /** Codes in order; empty where the permit lists none. */
  materials: string[];
  /** What the figures of a mix are to lie between, each at most once; empty where it asks nothing of them. */
  mixTargets: { figure: MixFigure; min: number | null; max: number | null }[];
}
