/**
 * CO2 evolution, mg CO2-C per g organic matter per day: <2 very stable, 2–8 stable, 8–15 moderately unstable, 15–40
 * unstable, >40 raw. TMECC 05.08-B: from memory. CO2 to carbon: 12/44 by mass, from the atomic masses 12 and 16.
 * PAS 100: 16 mg of CO2 (a trade page on the edition of 2005), which is 4.36 mg CO2-C. CCME 2005: 4 mg C, from memory.
 */
import { describe, expect, it } from 'vitest';
import { faultOf } from '#libs/process';
import { result, under } from './read.js';

const carbon = 'mg CO2-C/g OM/day';
const dioxide = 'mg CO2/g OM/day';
const classOf = (value: number, unit = carbon) =>
  under('tmecc-05-08-b', result('co2-evolution', value, unit)).class;

describe('CO2 evolution', () => {
  it.each([
    [0, 'very stable'],
    [1.999, 'very stable'],
    [2, 'stable'],
    [7.999, 'stable'],
    [8, 'moderately unstable'],
    [14.999, 'moderately unstable'],
    [15, 'unstable'],
    [40, 'unstable'],
    [40.001, 'raw'],
  ])('of %d mg CO2-C is %s', (value, name) => {
    expect(classOf(value)).toBe(name);
  });

  it('of carbon dioxide is 12/44 of it in carbon: 11 are 3, 44 are 12', () => {
    expect(classOf(29.33, dioxide)).toBe('stable');
    expect(classOf(29.34, dioxide)).toBe('moderately unstable');
    const { text, value, unit } = under('tmecc-05-08-b', result('co2-evolution', 11, dioxide));
    expect([value, unit]).toEqual([11, dioxide]);
    expect(text).toMatch(/^CO2 evolution 11 mg CO2\/g OM\/day \(3 mg CO2-C\/g OM\/day\): stable /);
  });

  it('is never read in a unit that was not given', () => {
    for (const unit of ['', 'mg/g/day', 'mg CO2-C/g', 'mg co2/g OM/day']) {
      expect(faultOf(result('co2-evolution', 4, unit))?.field, unit).toBe('unit');
    }
  });

  it('meets PAS 100 at 16 mg of CO2 or 4.36 mg of carbon, and not at 16 mg of carbon', () => {
    const keeps = (value: number, unit: string) =>
      under('pas-100-co2', result('co2-evolution', value, unit)).state;
    expect([keeps(16, dioxide), keeps(16.01, dioxide)]).toEqual(['met', 'unmet']);
    expect([keeps(4.36, carbon), keeps(4.37, carbon), keeps(16, carbon)]).toEqual(['met', 'unmet', 'unmet']);
  });

  it('meets CCME 2005 at 4 mg of carbon, and the Minnesota specification below 8', () => {
    const state = (table: string, value: number) =>
      under(table, result('co2-evolution', value, carbon)).state;
    expect([state('ccme-2005-co2', 4), state('ccme-2005-co2', 4.001)]).toEqual(['met', 'unmet']);
    expect([state('mn-stormwater-co2', 7.999), state('mn-stormwater-co2', 8)]).toEqual(['met', 'unmet']);
  });
});
