/** An invented valley. None of its towns, people or organisations exists. */
export const programme = 'Thistledown Compost Circle';

export const jurisdictions = [
  { key: 'larkhollow', name: 'Town of Lark Hollow', reportingYearStart: '07-01' },
  { key: 'emberford', name: 'County of Ember Ford', reportingYearStart: '01-01' },
] as const;

export type JurisdictionKey = (typeof jurisdictions)[number]['key'];

export interface HubStory {
  code: string;
  name: string;
  jurisdiction: JurisdictionKey;
  /** ISO week days on which it opens. */
  opens: number[];
  fromHour: number;
  /** Lots of a usual opening. */
  lots: number;
  /** A hub without a scale counts buckets. */
  hasScale: boolean;
}

export const hubs: HubStory[] = [
  {
    code: 'QS',
    name: 'Quill Street Hub',
    jurisdiction: 'larkhollow',
    opens: [3, 6],
    fromHour: 9,
    lots: 14,
    hasScale: true,
  },
  {
    code: 'MM',
    name: 'Miller’s Meadow Hub',
    jurisdiction: 'larkhollow',
    opens: [6],
    fromHour: 10,
    lots: 10,
    hasScale: true,
  },
  {
    code: 'FB',
    name: 'Footbridge Hub',
    jurisdiction: 'emberford',
    opens: [2, 7],
    fromHour: 16,
    lots: 7,
    hasScale: false,
  },
];

export interface YardStory {
  code: string;
  name: string;
  jurisdiction: JurisdictionKey;
  method: 'turned-windrow' | 'static-aerated';
  rule: string;
  /** What a batch must meet besides. */
  furtherRules: string[];
  /** Between what its permit asks the mix to lie. */
  mixTargets: { figure: string; min?: number; max?: number }[];
  /** Kinds of sample that its permit asks for. */
  samples: string[];
  bays: string[];
  /** Hubs whose material comes here. */
  hubs: string[];
  /** Days a batch is fed before it is closed. */
  buildDays: number;
  turns: boolean;
  hasLogger: boolean;
  /** Has had its chips looked at by a laboratory. */
  measuresChips: boolean;
  /** What its permit allows to come in. */
  yearlyMassShortTon: number;
  publicRecords: boolean;
}

/** A rule of the county's own; `county-rule.ts` has its text. */
export const countyRuleCode = 'ember-ford-14-3';

export const yards: YardStory[] = [
  {
    code: 'OO',
    name: 'Old Orchard Yard',
    jurisdiction: 'larkhollow',
    method: 'turned-windrow',
    rule: 'us-503-pfrp-windrow',
    furtherRules: ['us-503-vector-attraction'],
    mixTargets: [],
    samples: ['maturity', 'pathogens'],
    bays: ['A1', 'A2', 'A3', 'A4', 'A5', 'A6'],
    hubs: ['QS', 'MM'],
    buildDays: 21,
    turns: true,
    hasLogger: false,
    measuresChips: true,
    yearlyMassShortTon: 10,
    publicRecords: true,
  },
  {
    code: 'RL',
    name: 'River Lot Yard',
    jurisdiction: 'emberford',
    method: 'static-aerated',
    rule: 'us-503-pfrp-static-aerated',
    furtherRules: [countyRuleCode],
    mixTargets: [
      { figure: 'carbonToNitrogen', min: 25, max: 40 },
      { figure: 'moisturePercent', min: 45, max: 60 },
    ],
    samples: ['germination'],
    bays: ['1', '2', '3', '4'],
    hubs: ['FB'],
    buildDays: 35,
    turns: false,
    hasLogger: true,
    measuresChips: false,
    yearlyMassShortTon: 60,
    publicRecords: false,
  },
];

export const permitMaterials = [
  'food-scraps',
  'vegetable-scraps',
  'fruit-scraps',
  'coffee-grounds',
  'leaves',
  'grass-clippings',
  'wood-chips',
  'straw-wheat',
  'finished-compost',
  'overs',
  'water',
];

export const people = [
  { key: 'coordinator', name: 'Juniper Vale', role: 'coordinator', site: null },
  { key: 'manager', name: 'Marl Okonjo', role: 'manager', site: 'OO' },
  { key: 'manager', name: 'Marl Okonjo', role: 'manager', site: 'QS' },
  { key: 'manager', name: 'Marl Okonjo', role: 'manager', site: 'MM' },
  { key: 'rivermanager', name: 'Tamsin Reed', role: 'manager', site: 'RL' },
  { key: 'rivermanager', name: 'Tamsin Reed', role: 'manager', site: 'FB' },
  { key: 'crew', name: 'Alder Finch', role: 'operator', site: 'OO' },
  { key: 'crew', name: 'Alder Finch', role: 'operator', site: 'QS' },
  { key: 'crew', name: 'Alder Finch', role: 'operator', site: 'MM' },
  { key: 'rivercrew', name: 'Bracken Sho', role: 'operator', site: 'RL' },
  { key: 'rivercrew', name: 'Bracken Sho', role: 'operator', site: 'FB' },
  { key: 'volunteer', name: 'Wren Castellane', role: 'volunteer', site: 'QS' },
  { key: 'volunteer', name: 'Wren Castellane', role: 'volunteer', site: 'MM' },
  { key: 'rivervolunteer', name: 'Pip Harrow', role: 'volunteer', site: 'FB' },
  { key: 'reader', name: 'Clerk of Lark Hollow', role: 'municipal-reader', site: null },
] as const;

export const PASSWORD = 'a heap of leaves';

export const emailOf = (key: string): string => `${key}@thistledown.example`;
