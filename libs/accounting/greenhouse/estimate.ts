/** What a material is to those who count waste; factors are published for these. */
export const wasteCategories = [
  'food',
  'grass',
  'leaves',
  'branches',
  'yard-trimmings',
  'mixed-organics',
  'other',
] as const;
export type WasteCategory = (typeof wasteCategories)[number];

/** A factor as it was published. The source says how far it was checked. */
export interface FactorUsed {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly source: string;
}

/** One waste category of an estimate. Signs are the method's own: below zero is a net saving. */
export interface GreenhouseLine {
  readonly category: WasteCategory;
  readonly materials: readonly string[];
  readonly massKg: number;
  /** Null where the set says nothing of the category. */
  readonly compostingTCo2e: number | null;
  /** Had it gone to landfill; null where the set knows no such baseline. */
  readonly landfillTCo2e: number | null;
  /** Composting less landfill: below zero is less warming by composting, above zero more. Null without a baseline. */
  readonly differenceTCo2e: number | null;
}

/** An estimate by one published set of factors; sets are never mixed. Tonnes of CO2 equivalent, three decimals. */
export interface GreenhouseEstimate {
  readonly set: string;
  readonly title: string;
  readonly version: string;
  readonly source: string;
  readonly lines: readonly GreenhouseLine[];
  readonly total: Pick<GreenhouseLine, 'massKg' | 'compostingTCo2e' | 'landfillTCo2e' | 'differenceTCo2e'>;
  /** Mass that the set has no factor for, and is in no total. */
  readonly unknownKg: number;
  readonly factors: readonly FactorUsed[];
  /** What the estimate is and is not, in sentences. */
  readonly notes: readonly string[];
}
