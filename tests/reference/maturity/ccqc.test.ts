/**
 * CCQC Compost Maturity Index, June 2001. Its ratings (very mature, mature, immature) were read in the document; the
 * figures, the C:N of at most 25 and the rule of one test of group A and one of group B are from memory.
 */
import { describe, expect, it } from 'vitest';
import { assessSample, type SampleResult } from '#libs/process';
import { result, under } from './read.js';

type Row = [parameter: string, unit: string, very: number, mature: number[], immature: number];

const rows: Row[] = [
  ['oxygen-uptake-solids', 'mg O2/g TS/h', 0.39, [0.4, 1.3], 1.31],
  ['oxygen-uptake', 'mg O2/g VS/h', 0.49, [0.5, 1.5], 1.51],
  ['co2-evolution', 'mg CO2-C/g VS/day', 1.99, [2, 8], 8.01],
  ['self-heating', 'C above ambient', 9.9, [10, 20], 20.1],
  ['ammonia-to-nitrate', ':1', 0.49, [0.5, 3], 3.01],
  ['ammonia-n', 'ppm dry', 74, [75, 500], 501],
  ['volatile-acids', 'mg/kg dry', 199, [200, 1000], 1001],
  ['germination', '% of control', 91, [90, 80], 79],
  ['emergence', '% of control', 90.1, [90, 80], 79.9],
  ['vigour', '% of control', 90.1, [90, 80], 79.9],
];

const index = (...results: SampleResult[]) =>
  assessSample(results).find(({ parameter }) => parameter === 'ccqc-index');

describe('a test of the CCQC index', () => {
  it.each(rows)('%s in %s', (parameter, unit, very, mature, immature) => {
    const rating = (value: number) => under(`ccqc-2001-${parameter}`, result(parameter, value, unit)).class;
    expect(rating(very)).toBe('very mature');
    expect(mature.map(rating)).toEqual(['mature', 'mature']);
    expect(rating(immature)).toBe('immature');
  });
});

describe('the rating of the CCQC index', () => {
  const ratio = (value: number) => result('carbon-to-nitrogen', value, ':1');
  const co2 = (value: number) => result('co2-evolution', value, 'mg CO2-C/g OM/day');
  const germination = (value: number) => result('germination', value, '% of control');

  it('needs C:N of at most 25, a test of group A and one of group B', () => {
    expect(index(ratio(25), co2(1), germination(95))).toMatchObject({
      class: 'very mature',
      state: 'classed',
    });
    expect(index(ratio(25.1), co2(1), germination(95))).toMatchObject({ class: 'immature' });
    expect(index(co2(1), germination(95))).toMatchObject({ class: null, state: 'unknown' });
    expect(index(ratio(20), co2(1))?.text).toMatch(
      /^Compost Maturity Index: not rated, since it asks for a test of group B/,
    );
    expect(index(ratio(20), germination(95))?.text).toMatch(/asks for a test of group A as well/);
    expect(index(ratio(20))).toBeUndefined();
  });

  it('is the lowest of its tests, and says so where they differ', () => {
    expect(index(ratio(20), co2(1), germination(85))).toMatchObject({ class: 'mature' });
    const lowest = index(ratio(20), co2(9), germination(95));
    expect(lowest).toMatchObject({ class: 'immature', textStatus: 'from-memory' });
    expect(lowest?.text).toMatch(/Where tests differ the lowest of them is taken\. Figures from memory/);
  });
});
