import type { DivertedMasses } from '#libs/accounting';
import { DIVERSION_REPORT_SCHEMA, type DiversionReport } from '#libs/documents';
import { formatMass, kgOf } from '#libs/quantities';
import { yards } from './diversion-report-yards.js';
import { amends, factors, greenhouse, limits, methods, rate } from './diversion-report-words.js';

/** Every place, organisation and person here is invented. */

const MONTHS = [7, 8, 9, 10, 11, 12, 1, 2, 3, 4, 5, 6].map((month) => ({
  month: `${month > 6 ? 2025 : 2026}-${String(month).padStart(2, '0')}`,
  /** How much comes, against the other months: leaves in autumn, little in winter. */
  season: [90, 100, 105, 130, 150, 80, 55, 50, 70, 95, 110, 100][(month + 5) % 12] ?? 100,
}));

const MATERIALS = [
  { material: 'food-scraps', name: 'Food scraps, households', share: 46 },
  { material: 'coffee-grounds', name: 'Coffee grounds', share: 9 },
  { material: 'leaves-dry', name: 'Leaves, dry', share: 21 },
  { material: 'grass-clippings', name: 'Grass clippings', share: 8 },
  { material: 'wood-chips', name: 'Wood chips', share: 7 },
  { material: 'garden-waste', name: 'Garden waste, mixed, of allotments and school gardens', share: 6 },
  { material: 'straw', name: 'Straw, wheat', share: 3 },
] as const;

const HUBS = ['Alder', 'Birch', 'Chapel', 'Dovecote', 'Ferry', 'Granary', 'Hazel', 'Kiln'];
const KINDS = ['Lane hub', 'Street hub', 'Green hub', 'School hub', 'Market hub'];

/** A hub is named by two words, so that none of forty is like another; the first ones are yards as well. */
const siteAt = (index: number): { code: string; name: string } => {
  const hub = HUBS[index % HUBS.length] ?? '';
  const kind = KINDS[Math.floor(index / HUBS.length) % KINDS.length] ?? '';
  const round = Math.floor(index / (HUBS.length * KINDS.length));
  return {
    code: `${hub.slice(0, 2).toUpperCase()}${index + 1}`,
    name: `${hub} ${kind}${round > 0 ? ` ${round + 1}` : ''}`,
  };
};

/** Grams of one material at one site in one month. The same numbers every time, and no two alike. */
interface Cell {
  site: number;
  month: number;
  material: number;
  basis: 'weighed' | 'shared' | 'estimated';
  acceptedG: number;
  pulledG: number;
  residueG: number;
  landfilledG: number;
  elsewhereG: number;
  lots: number;
}

function cellsOf(sites: number): Cell[] {
  let state = 20_260_701;
  const next = (): number => (state = (state * 48_271) % 2_147_483_647);
  const cells: Cell[] = [];
  for (let site = 0; site < sites; site += 1) {
    for (const [month, { season }] of MONTHS.entries()) {
      for (const [material, { share }] of MATERIALS.entries()) {
        const acceptedG = share * season * (60 - site) * 2 + (next() % 4000);
        const residueG = Math.floor(acceptedG / 24) + (next() % 90);
        cells.push({
          ...{ site, month, material, acceptedG, residueG },
          basis: site % 5 === 3 ? 'shared' : material === 2 && site % 2 === 0 ? 'estimated' : 'weighed',
          pulledG: next() % 700,
          landfilledG: Math.floor((residueG * 3) / 4),
          elsewhereG: site === 17 ? acceptedG : 0,
          lots: 1 + (next() % 30),
        });
      }
    }
  }
  return cells;
}

function massesOf(cells: readonly Cell[]): DivertedMasses {
  const sum = (of: (cell: Cell) => number): number => cells.reduce((total, cell) => total + of(cell), 0);
  const onBasis = (basis: Cell['basis']): number =>
    kgOf(sum((cell) => (cell.basis === basis ? cell.acceptedG : 0)));
  return {
    lots: sum(({ lots }) => lots),
    acceptedKg: kgOf(sum(({ acceptedG }) => acceptedG)),
    weighedKg: onBasis('weighed'),
    sharedKg: onBasis('shared'),
    estimatedKg: onBasis('estimated'),
    pulledKg: kgOf(sum(({ pulledG }) => pulledG)),
    residueKg: kgOf(sum(({ residueG }) => residueG)),
    landfilledKg: kgOf(sum(({ landfilledG }) => landfilledG)),
    divertedKg: kgOf(sum(({ acceptedG, landfilledG }) => acceptedG - landfilledG)),
    elsewhereKg: kgOf(sum(({ elsewhereG }) => elsewhereG)),
  };
}

/** A whole reporting year of one town: twelve months, so many sites, everything a report can hold. */
export function diversionReport(sites = 40): DiversionReport {
  const cells = cellsOf(sites);
  const total = massesOf(cells);
  const returnedG = Math.floor(total.pulledKg * 70);
  const printed = (massKg: number, unit: 'short-ton' | 't', decimals: number): string =>
    formatMass(Math.round(massKg * 1000), unit, decimals);
  return {
    schema: DIVERSION_REPORT_SCHEMA,
    version: 2,
    amends: amends(total),
    asOf: '2026-08-14T09:12:44.120Z',
    issuedBy: 'R. O.',
    programme: { name: 'Ottermere Valley Community Compost' },
    jurisdiction: { name: 'Town of Lower Ottermere', reportingYearStart: '07-01' },
    period: {
      ...{ from: '2025-07-01', to: '2026-07-01', wholeYear: true },
      inWords: 'from 2025-07-01 up to and including 2026-06-30',
    },
    printed: {
      acceptedShortTons: printed(total.acceptedKg, 'short-ton', 2),
      divertedShortTons: printed(total.divertedKg, 'short-ton', 2),
      acceptedTonnes: printed(total.acceptedKg, 't', 3),
      divertedTonnes: printed(total.divertedKg, 't', 3),
    },
    estimatedShare: Math.round((total.estimatedKg / total.acceptedKg) * 1e4) / 1e4,
    figures: {
      from: '2025-07-01',
      to: '2026-07-01',
      residueTo: 'traced',
      total,
      byMaterial: MATERIALS.map(({ material, name }, index) => ({
        ...{ material, name },
        ...massesOf(cells.filter((cell) => cell.material === index)),
      })),
      bySite: Array.from({ length: sites }, (_unused, index) => ({
        ...siteAt(index),
        ...massesOf(cells.filter((cell) => cell.site === index)),
      })),
      byMonth: MONTHS.map(({ month }, index) => ({
        month,
        ...massesOf(cells.filter((cell) => cell.month === index)),
      })),
      pulled: [
        { wentTo: 'landfill', massKg: kgOf(Math.round(total.pulledKg * 1000) - returnedG) },
        { wentTo: 'returned', massKg: kgOf(returnedG) },
      ],
      residue: [
        { wentTo: 'landfill', massKg: total.landfilledKg },
        { wentTo: 'recycling', massKg: kgOf(Math.round((total.residueKg - total.landfilledKg) * 1000)) },
      ],
      refused: { loads: 61, unweighed: 22, massKg: 904.318 },
      visits: 40_318,
      byDepositor: [
        {
          depositor: 'household',
          visits: 37_902,
          acceptedKg: kgOf(Math.round(total.acceptedKg * 1000) - 22_750_911),
        },
        { depositor: 'business', visits: 1_611, acceptedKg: 13_204.5 },
        { depositor: 'school', visits: 805, acceptedKg: 9_546.411 },
      ],
      stockAtStart: {
        on: '2025-07-01',
        ...{
          waitingKg: 1_204.66,
          onTheRoadKg: 0,
          buildingKg: 6_310.225,
          activeKg: 22_914.7,
          curingKg: 31_006.042,
        },
      },
      stockAtEnd: {
        on: '2026-07-01',
        ...{
          waitingKg: 988.105,
          onTheRoadKg: 412.77,
          buildingKg: 7_204.9,
          activeKg: 25_110.338,
          curingKg: 29_447.516,
        },
      },
    },
    rate: rate(total),
    greenhouse,
    facilities: yards,
    methods,
    factors,
    limits,
    rows: { count: 43_908, sha256: '7d1a54127b222502f5b79b5fb0803061152a44f92b37e23c6527baf665d4da9a' },
  };
}

/** A first report of a place where nothing happened: every list empty, everything unknown that may be. */
export function emptyDiversionReport(): DiversionReport {
  const whole = diversionReport(1);
  const nothing = massesOf([]);
  const stock = { waitingKg: 0, onTheRoadKg: 0, buildingKg: 0, activeKg: 0, curingKg: 0 };
  return {
    ...whole,
    ...{ version: 1, amends: null, estimatedShare: null, rate: null, greenhouse: null, facilities: [] },
    period: {
      ...{ from: '2026-01-01', to: '2026-04-01', wholeYear: false },
      inWords: 'from 2026-01-01 up to and including 2026-03-31',
    },
    printed: {
      ...{ acceptedShortTons: '0.00', divertedShortTons: '0.00' },
      ...{ acceptedTonnes: '0.000', divertedTonnes: '0.000' },
    },
    figures: {
      ...{ from: '2026-01-01', to: '2026-04-01', residueTo: 'site', total: nothing },
      ...{ byMaterial: [], bySite: [], byMonth: [], pulled: [], residue: [], byDepositor: [], visits: 0 },
      refused: { loads: 0, unweighed: 0, massKg: 0 },
      stockAtStart: { on: '2026-01-01', ...stock },
      stockAtEnd: { on: '2026-04-01', ...stock },
    },
    factors: [],
    rows: { ...whole.rows, count: 0 },
  };
}
