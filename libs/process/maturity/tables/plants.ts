import { type ClassTable, type LimitTable, rest, type Source, upTo } from '../table.js';

const minnesota: Source = {
  citation: 'Minnesota Stormwater Manual, compost specifications',
  textStatus: 'verified',
  textSource: 'the page of the Minnesota Pollution Control Agency',
};

const atLeast80 = (parameter: 'emergence' | 'vigour'): LimitTable => ({
  ...minnesota,
  ...{ code: `mn-stormwater-${parameter}`, title: 'Minnesota Stormwater Manual', parameter },
  ...{ unit: '% of control', limit: { is: 'at least', value: 80 }, choice: null },
});

const above80 = (parameter: 'emergence' | 'vigour'): LimitTable => ({
  ...{ code: `cucumber-${parameter}`, title: 'Cucumber bioassay, well cured', parameter },
  citation: 'Words of a laboratory report kept by San Joaquin County, Environmental Health Department',
  ...{ textStatus: 'verified', textSource: 'the report itself' },
  ...{ unit: '% of control', limit: { is: 'above', value: 80 } },
  choice: 'Well cured is above 80 % for both, emergence and vigour.',
});

export const plantLimits: readonly LimitTable[] = [
  atLeast80('emergence'),
  atLeast80('vigour'),
  above80('emergence'),
  above80('vigour'),
];

export const carbonToNitrogen: ClassTable = {
  ...{ code: 'clemson-c-n', title: 'Clemson interpretation', parameter: 'carbon-to-nitrogen', unit: ':1' },
  citation: 'Clemson University, Agricultural Service Laboratory, compost interpretation',
  ...{ textStatus: 'verified', textSource: 'the page of the laboratory' },
  bands: [
    { name: 'releases nitrogen', to: 20, withEdge: false },
    upTo(30, 'between the two'),
    rest('likely ties up nitrogen'),
  ],
  choice: 'The page names what lies under 20 and above 30; what lies between has no word there.',
};

export const characterLimits: readonly LimitTable[] = (
  [
    ['ph', 'pH', 'at least', 5.5],
    ['ph', 'pH', 'at most', 8.5],
    ['soluble-salts', 'dS/m', 'below', 10],
    ['organic-matter', '% dry mass', 'at least', 30],
    ['organic-matter', '% dry mass', 'at most', 65],
  ] as const
).map(([parameter, unit, is, value]) => ({
  ...minnesota,
  ...{ code: `mn-stormwater-${parameter}-${is.replace(' ', '-')}`, title: 'Minnesota Stormwater Manual' },
  ...{ parameter, unit, limit: { is, value }, choice: null },
}));
