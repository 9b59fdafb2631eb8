import type { ParameterKey } from '../parameters.js';
import type { LimitTable, Source } from '../table.js';

const memory = { textStatus: 'from-memory', textSource: 'memory: no copy of the text was read' } as const;

const california: Source = { citation: '14 CCR 17868.3.1', ...memory };
const eu: Source = { citation: 'Regulation (EU) 2019/1009, Annex II, CMC 3', ...memory };
const pas: Source = { citation: 'BSI PAS 100, physical contaminants', ...memory };
const australia: Source = {
  citation: 'AS 4454-2012',
  textStatus: 'from-memory',
  textSource: 'memory; title and list of clauses were read',
};
const minnesota: Source = {
  citation: 'Minn. R. 7035.2836 subp. 3',
  textStatus: 'verified',
  textSource: 'a copy of the rule of December 2024',
};

const most = (
  source: Source,
  [code, title]: readonly [string, string],
  parameter: ParameterKey,
  [value, unit]: readonly [number, string],
  choice: string | null = null,
): LimitTable => ({
  ...source,
  ...{ code: `${code}-${parameter}`, title, parameter, unit, limit: { is: 'at most', value }, choice },
});

const ca = ['ca-17868-3-1', 'California'] as const;
const euName = ['eu-2019-1009', 'EU compost (CMC 3)'] as const;
const pasName = ['pas-100', 'PAS 100'] as const;
const auName = ['as-4454', 'AS 4454'] as const;

export const contaminantLimits: readonly LimitTable[] = [
  most(california, ca, 'contaminants-over-4-mm', [0.5, '% dry mass']),
  most(
    california,
    ca,
    'film-plastic-over-4-mm',
    [0.1, '% dry mass'],
    'No more than 20 % of the 0.5 % may be film plastic: read as 0.1 % of the dry mass.',
  ),
  most(
    california,
    ca,
    'film-share-over-4-mm',
    [20, '% of contaminants'],
    'No more than 20 % of the 0.5 % may be film plastic: held against the contaminants that were found, which is stricter where they are less than 0.5 %.',
  ),
  most(
    minnesota,
    ['mn-7035-2836', 'Minnesota, yard waste compost'],
    'contaminants-over-4-mm',
    [3, '% dry mass'],
    'The rule speaks of inert material of 4 mm or more.',
  ),
  ...(['glass-over-2-mm', 'metal-over-2-mm', 'plastics-over-2-mm'] as const).map((parameter) =>
    most(eu, euName, parameter, [3, 'g/kg dry']),
  ),
  most(eu, ['eu-2019-1009-2026', 'EU compost (CMC 3), from 16 July 2026'], 'plastics-over-2-mm', [
    2.5,
    'g/kg dry',
  ]),
  most(eu, euName, 'impurities-over-2-mm', [5, 'g/kg dry']),
  most(pas, pasName, 'impurities-over-2-mm', [0.25, '% dry mass']),
  most(pas, pasName, 'plastics-over-2-mm', [0.12, '% dry mass']),
  most(australia, auName, 'rigid-over-2-mm', [0.5, '% dry mass']),
  most(australia, auName, 'light-plastic-over-5-mm', [0.05, '% dry mass']),
  most(australia, auName, 'stones-over-5-mm', [5, '% dry mass']),
];
