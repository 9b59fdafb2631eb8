import type { TextStatus } from '../../rule.js';
import type { ParameterKey } from '../parameters.js';
import type { LimitTable } from '../table.js';

type Metal = Extract<
  ParameterKey,
  | 'arsenic'
  | 'cadmium'
  | 'chromium'
  | 'cobalt'
  | 'copper'
  | 'lead'
  | 'mercury'
  | 'molybdenum'
  | 'nickel'
  | 'selenium'
  | 'zinc'
>;

interface MetalsTable {
  readonly code: string;
  readonly title: string;
  readonly citation: string;
  readonly textSource: string;
  /** mg/kg dry matter. */
  readonly limits: Readonly<Partial<Record<Metal, number>>>;
  readonly textStatus: TextStatus;
  /** Metals whose figure was checked better or worse than the rest. */
  readonly but?: Readonly<Partial<Record<Metal, TextStatus>>>;
  readonly choice: string | null;
}

const sludge = 'Part 503 binds sewage sludge; other compost only where a state or a buyer adopts it.';

const metalsTables: readonly MetalsTable[] = [
  {
    ...{ code: 'us-503-13-table-3', title: '503.13 Table 3', citation: '40 CFR 503.13, Table 3' },
    textStatus: 'verified',
    textSource: 'the section in part, Walsh (1995) and the same figures in 14 CCR 17868.2',
    limits: {
      ...{ arsenic: 41, cadmium: 39, copper: 1500, lead: 300, mercury: 17, nickel: 420 },
      ...{ selenium: 100, zinc: 2800 },
    },
    choice: `Written as a monthly average; here one sample is held against it. ${sludge}`,
  },
  {
    ...{ code: 'us-503-13-table-1', title: '503.13 Table 1 (ceiling)', citation: '40 CFR 503.13, Table 1' },
    textStatus: 'verified',
    textSource: 'the section in part, and the ceilings as tabulated in a journal',
    limits: {
      ...{ arsenic: 75, cadmium: 85, copper: 4300, lead: 840, mercury: 57, molybdenum: 75, nickel: 420 },
      ...{ selenium: 100, zinc: 7500 },
    },
    choice: sludge,
  },
  {
    ...{ code: 'ca-17868-2', title: 'California', citation: '14 CCR 17868.2, Table 3' },
    textStatus: 'verified',
    textSource: 'a copy of the section',
    limits: {
      ...{ arsenic: 41, cadmium: 39, copper: 1500, lead: 300, mercury: 17, nickel: 420 },
      ...{ selenium: 100, zinc: 2800 },
    },
    choice: null,
  },
  {
    ...{ code: 'ccme-2005-a', title: 'CCME 2005, category A' },
    citation: 'CCME Guidelines for Compost Quality 2005 (PN 1340), category A',
    textStatus: 'from-memory',
    textSource: 'memory; copper and zinc in a trade journal on the changes of 2005',
    but: { copper: 'secondary', zinc: 'secondary' },
    limits: {
      ...{ arsenic: 13, cadmium: 3, chromium: 210, cobalt: 34, copper: 400, lead: 150, mercury: 0.8 },
      ...{ molybdenum: 5, nickel: 62, selenium: 2, zinc: 700 },
    },
    choice: null,
  },
  {
    ...{ code: 'ccme-2005-b', title: 'CCME 2005, category B' },
    citation: 'CCME Guidelines for Compost Quality 2005 (PN 1340), category B',
    textStatus: 'from-memory',
    textSource: 'memory: no copy of the table was read',
    limits: {
      ...{ arsenic: 75, cadmium: 20, chromium: 1060, cobalt: 150, copper: 757, lead: 500, mercury: 5 },
      ...{ molybdenum: 20, nickel: 180, selenium: 14, zinc: 1850 },
    },
    choice: null,
  },
  {
    ...{ code: 'pas-100', title: 'PAS 100', citation: 'BSI PAS 100, potentially toxic elements' },
    textStatus: 'from-memory',
    textSource: 'memory: no copy of the table was read',
    limits: { cadmium: 1.5, chromium: 100, copper: 200, lead: 200, mercury: 1, nickel: 50, zinc: 400 },
    choice: null,
  },
];

const limitsIn = ({ code, limits, textStatus, but, ...table }: MetalsTable): LimitTable[] =>
  (Object.entries(limits) as [Metal, number][]).map(([metal, value]) => ({
    ...{ title: table.title, citation: table.citation, textSource: table.textSource, choice: table.choice },
    ...{ code: `${code}-${metal}`, parameter: metal, unit: 'mg/kg dry' },
    textStatus: but?.[metal] ?? textStatus,
    limit: { is: 'at most', value },
  }));

export const metalLimits: readonly LimitTable[] = metalsTables.flatMap(limitsIn);
