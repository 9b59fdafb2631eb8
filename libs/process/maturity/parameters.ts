import type { Microbe } from '../rule.js';

/** A unit a figure may come in: a figure in it times `num` / `den` is the figure in the parameter's first unit. */
export interface UnitOf {
  readonly unit: string;
  readonly num: number;
  readonly den: number;
}

/** What a laboratory measures. The units are part of the figure: what is not listed is another measure. */
export interface Parameter {
  readonly key: string;
  readonly title: string;
  readonly units: readonly [UnitOf, ...UnitOf[]];
  /** The most that is not a slip of the keys, in the first unit; the least is 0 unless `least` says otherwise. */
  readonly most: number;
  readonly least?: number;
  readonly microbe?: Microbe;
}

const unit = (name: string, num = 1, den = 1): UnitOf => ({ unit: name, num, den });

/** Carbon is 12/44 of carbon dioxide by mass: 12 of C, 2 × 16 of O. */
const inCarbonDioxide = [12, 44] as const;
/** A mmol of oxygen is 32 mg. */
const inMmolOxygen = 32;

const dry = [unit('mg/kg dry'), unit('ppm dry'), unit('ug/kg dry', 1, 1000)] as const;
const share = [unit('% dry mass'), unit('g/kg dry', 1, 10)] as const;
const ofControl = [unit('% of control')] as const;

const stability = [
  {
    key: 'self-heating',
    title: 'Self-heating (Dewar vessel), rise',
    units: [unit('C above ambient'), unit('F above ambient', 5, 9)],
    most: 80,
  },
  {
    key: 'co2-evolution',
    title: 'CO2 evolution',
    units: [
      unit('mg CO2-C/g OM/day'),
      unit('mg CO2/g OM/day', ...inCarbonDioxide),
      unit('mg CO2-C/g VS/day'),
      unit('mg CO2/g VS/day', ...inCarbonDioxide),
    ],
    most: 200,
  },
  {
    key: 'oxygen-uptake',
    title: 'Oxygen uptake of the organic matter',
    units: [
      unit('mg O2/kg OM/h'),
      unit('mg O2/g OM/h', 1000),
      unit('mmol O2/kg OM/h', inMmolOxygen),
      unit('mg O2/kg VS/h'),
      unit('mg O2/g VS/h', 1000),
    ],
    most: 20_000,
  },
  {
    key: 'oxygen-uptake-solids',
    title: 'Oxygen uptake of the dry matter',
    units: [unit('mg O2/g TS/h')],
    most: 20,
  },
] as const satisfies readonly Parameter[];

const maturity = [
  { key: 'carbon-to-nitrogen', title: 'C:N', units: [unit(':1')], most: 1000 },
  { key: 'ammonia-to-nitrate', title: 'NH4-N : NO3-N', units: [unit(':1')], most: 100_000 },
  { key: 'ammonia-n', title: 'Ammonia nitrogen', units: dry, most: 100_000 },
  { key: 'volatile-acids', title: 'Volatile organic acids', units: dry, most: 500_000 },
  { key: 'germination', title: 'Seed germination', units: ofControl, most: 500 },
  { key: 'emergence', title: 'Emergence of seedlings', units: ofControl, most: 500 },
  { key: 'vigour', title: 'Vigour of seedlings', units: ofControl, most: 500 },
  {
    key: 'cupped-plants',
    title: 'Bioassay: plants cupped or twisted',
    units: [unit('% of plants')],
    most: 100,
  },
  {
    key: 'cupped-plants-control',
    title: 'Bioassay: plants cupped or twisted in the control',
    units: [unit('% of plants')],
    most: 100,
  },
] as const satisfies readonly Parameter[];

const contaminants = [
  { key: 'contaminants-over-4-mm', title: 'Physical contaminants over 4 mm' },
  { key: 'film-plastic-over-4-mm', title: 'Film plastic over 4 mm' },
  { key: 'impurities-over-2-mm', title: 'Glass, metal and plastics over 2 mm' },
  { key: 'glass-over-2-mm', title: 'Glass over 2 mm' },
  { key: 'metal-over-2-mm', title: 'Metal over 2 mm' },
  { key: 'plastics-over-2-mm', title: 'Plastics over 2 mm' },
  { key: 'rigid-over-2-mm', title: 'Glass, metal and rigid plastic over 2 mm' },
  { key: 'light-plastic-over-5-mm', title: 'Light plastic over 5 mm' },
  { key: 'stones-over-5-mm', title: 'Stones over 5 mm' },
] as const;

const metals = [
  { key: 'arsenic', title: 'Arsenic' },
  { key: 'cadmium', title: 'Cadmium' },
  { key: 'chromium', title: 'Chromium' },
  { key: 'cobalt', title: 'Cobalt' },
  { key: 'copper', title: 'Copper' },
  { key: 'lead', title: 'Lead' },
  { key: 'mercury', title: 'Mercury' },
  { key: 'molybdenum', title: 'Molybdenum' },
  { key: 'nickel', title: 'Nickel' },
  { key: 'selenium', title: 'Selenium' },
  { key: 'zinc', title: 'Zinc' },
] as const;

const pathogens = [
  {
    key: 'fecal-coliform',
    title: 'Fecal coliform',
    units: [unit('MPN/g dry')],
    most: 1e9,
    microbe: 'fecal-coliform',
  },
  {
    key: 'salmonella',
    title: 'Salmonella',
    units: [unit('MPN/4 g dry')],
    most: 1e9,
    microbe: 'salmonella',
  },
  {
    key: 'salmonella-in-25-g',
    title: 'Salmonella found in 25 g',
    units: [unit('CFU/25 g')],
    most: 1e9,
    microbe: 'salmonella',
  },
  {
    key: 'e-coli',
    title: 'Escherichia coli',
    units: [unit('CFU/g')],
    most: 1e9,
    microbe: 'e-coli',
  },
] as const satisfies readonly Parameter[];

const character = [
  { key: 'ph', title: 'pH', units: [unit('pH')], most: 14 },
  {
    key: 'soluble-salts',
    title: 'Soluble salts',
    units: [unit('dS/m'), unit('mS/cm'), unit('mmhos/cm')],
    most: 200,
  },
  { key: 'organic-matter', title: 'Organic matter', units: [unit('% dry mass')], most: 100 },
] as const satisfies readonly Parameter[];

/** Everything a figure may be of, in the order in which it is told. */
export const parameters = [
  ...stability,
  ...maturity,
  ...contaminants.map((one) => ({ ...one, units: share, most: 100 })),
  {
    key: 'film-share-over-4-mm',
    title: 'Film plastic, share of the contaminants over 4 mm',
    units: [unit('% of contaminants')],
    most: 100,
  } as const,
  ...metals.map((one) => ({ ...one, units: dry, most: 1_000_000 })),
  ...pathogens,
  ...character,
] satisfies readonly Parameter[];

export type ParameterKey = (typeof parameters)[number]['key'];

export const parameterKeys: readonly ParameterKey[] = parameters.map(({ key }) => key);

const byKey = new Map<string, Parameter>(parameters.map((one) => [one.key, one]));

/** The units in which an organism is counted; a test of a rule in another one could never be held against a figure. */
export const microbeUnits = (microbe: Microbe): string[] =>
  parameters.flatMap((one: Parameter) =>
    one.microbe === microbe ? one.units.map(({ unit: name }) => name) : [],
  );

export const parameterOf = (key: string): Parameter | undefined => byKey.get(key);
