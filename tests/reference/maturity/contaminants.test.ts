/**
 * Physical contaminants. From memory: 14 CCR 17868.3.1 (0.5 % of dry mass over 4 mm, of that 0.5 % no more than 20 %
 * film plastic), EU 2019/1009 CMC 3 (over 2 mm: glass, metal, plastics each 3 g/kg, together 5 g/kg, plastics 2.5 g/kg
 * from 16 July 2026), PAS 100 (over 2 mm 0.25 %, plastics 0.12 %), AS 4454-2012 (glass, metal and rigid plastic over
 * 2 mm 0.5 %, light plastic over 5 mm 0.05 %, stones over 5 mm 5 %). Read in a copy of the rule: Minn. R. 7035.2836
 * subp. 3 (inert material of 4 mm or more, 3 %).
 */
import { describe, expect, it } from 'vitest';
import { type Edge, result, under } from './read.js';

const percent = '% dry mass';
const grams = 'g/kg dry';

const edges: Omit<Edge, 'unmet'>[] = [
  { table: 'ca-17868-3-1', parameter: 'contaminants-over-4-mm', unit: percent, met: 0.5 },
  { table: 'ca-17868-3-1', parameter: 'contaminants-over-4-mm', unit: grams, met: 5 },
  { table: 'ca-17868-3-1', parameter: 'film-plastic-over-4-mm', unit: percent, met: 0.1 },
  { table: 'ca-17868-3-1', parameter: 'film-share-over-4-mm', unit: '% of contaminants', met: 20 },
  { table: 'mn-7035-2836', parameter: 'contaminants-over-4-mm', unit: percent, met: 3 },
  { table: 'eu-2019-1009', parameter: 'glass-over-2-mm', unit: grams, met: 3 },
  { table: 'eu-2019-1009', parameter: 'metal-over-2-mm', unit: grams, met: 3 },
  { table: 'eu-2019-1009', parameter: 'plastics-over-2-mm', unit: percent, met: 0.3 },
  { table: 'eu-2019-1009-2026', parameter: 'plastics-over-2-mm', unit: grams, met: 2.5 },
  { table: 'eu-2019-1009', parameter: 'impurities-over-2-mm', unit: grams, met: 5 },
  { table: 'pas-100', parameter: 'impurities-over-2-mm', unit: percent, met: 0.25 },
  { table: 'pas-100', parameter: 'plastics-over-2-mm', unit: percent, met: 0.12 },
  { table: 'as-4454', parameter: 'rigid-over-2-mm', unit: percent, met: 0.5 },
  { table: 'as-4454', parameter: 'light-plastic-over-5-mm', unit: percent, met: 0.05 },
  { table: 'as-4454', parameter: 'stones-over-5-mm', unit: percent, met: 5 },
];

describe('physical contaminants', () => {
  it.each(edges)(
    '$table: $parameter is met at $met $unit, and not just above',
    ({ table, parameter, unit, met }) => {
      const state = (value: number) => under(`${table}-${parameter}`, result(parameter, value, unit)).state;
      expect([state(met), state(met * 1.001)]).toEqual(['met', 'unmet']);
    },
  );

  it('say how the Californian share of film plastic was read', () => {
    const { text } = under(
      'ca-17868-3-1-film-share-over-4-mm',
      result('film-share-over-4-mm', 30, '% of contaminants'),
    );
    expect(text).toMatch(/held against the contaminants that were found.*Figures from memory/);
  });
});
