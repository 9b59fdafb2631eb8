import type { ParameterKey } from '../parameters.js';
import { type ClassTable, rest, under, upTo } from '../table.js';

/** The ratings of the index, the best first. */
export const ccqcRatings = ['very mature', 'mature', 'immature'] as const;
export type CcqcRating = (typeof ccqcRatings)[number];

export const ccqcSource = {
  citation: 'California Compost Quality Council, Compost Maturity Index, June 2001',
  textStatus: 'from-memory',
  textSource: 'memory; that its ratings are very mature, mature and immature was read in the document',
} as const;

/** C:N must be no more than this before the groups are looked at. */
export const ccqcCarbonToNitrogen = 25;

interface CcqcTable extends ClassTable {
  readonly group: 'A' | 'B';
}

const [very, mature, immature] = ccqcRatings;

/** "<a", "a to b", ">b": no edge is open. */
const rising = (a: number, b: number) => [under(a, very), upTo(b, mature), rest(immature)];
/** "<b", "b to a", ">a". */
const falling = (b: number, a: number) => [under(b, immature), upTo(a, mature), rest(very)];

const row = (
  group: 'A' | 'B',
  parameter: ParameterKey,
  unit: string,
  bands: ClassTable['bands'],
  choice: string | null = null,
): CcqcTable => ({
  ...ccqcSource,
  ...{ code: `ccqc-2001-${parameter}`, title: `CCQC index, group ${group}` },
  ...{ group, parameter, unit, bands, choice },
});

/** Group A is of stability, group B of what harms plants. */
export const ccqcTables: readonly CcqcTable[] = [
  row('A', 'oxygen-uptake-solids', 'mg O2/g TS/h', rising(0.4, 1.3)),
  row('A', 'oxygen-uptake', 'mg O2/g VS/h', rising(0.5, 1.5)),
  row('A', 'co2-evolution', 'mg CO2-C/g VS/day', rising(2, 8)),
  row('A', 'self-heating', 'C above ambient', rising(10, 20)),
  row('B', 'ammonia-to-nitrate', ':1', rising(0.5, 3)),
  row('B', 'ammonia-n', 'ppm dry', rising(75, 500)),
  row('B', 'volatile-acids', 'ppm dry', rising(200, 1000)),
  row('B', 'germination', '% of control', falling(80, 90)),
  row(
    'B',
    'emergence',
    '% of control',
    falling(80, 90),
    'Emergence is read as the plant trial of the index.',
  ),
  row('B', 'vigour', '% of control', falling(80, 90), 'Vigour is read as the plant trial of the index.'),
];
