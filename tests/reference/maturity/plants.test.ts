/**
 * What grows in it. Minnesota Stormwater Manual, compost specifications (read on the agency's page): emergence and vigour
 * at least 80 % of control, pH 5.5–8.5, salts below 10 dS/m, organic matter 30–65 % of dry mass. Laboratory report kept
 * by San Joaquin County (lfweb.sjgov.org, 896776): above 80 % for both is well cured. Clemson University Agricultural
 * Service Laboratory: C:N above 30 likely ties up nitrogen, below 20 releases it. Washington State University Extension,
 * Whatcom County: cupped leaves of peas against a control show an auxin-type herbicide.
 */
import { describe, expect, it } from 'vitest';
import { assessSample } from '#libs/process';
import { result, under } from './read.js';

describe('emergence and vigour', () => {
  it.each(['emergence', 'vigour'])('%s', (parameter) => {
    const state = (table: string, value: number) =>
      under(`${table}-${parameter}`, result(parameter, value, '% of control')).state;
    expect([state('mn-stormwater', 80), state('mn-stormwater', 79.9)]).toEqual(['met', 'unmet']);
    expect([state('cucumber', 80), state('cucumber', 80.1)]).toEqual(['unmet', 'met']);
  });
});

describe('what compost is like', () => {
  it.each([
    ['ph', 'pH', 'at-least', 5.5, 5.4],
    ['ph', 'pH', 'at-most', 8.5, 8.6],
    ['soluble-salts', 'mS/cm', 'below', 9.99, 10],
    ['organic-matter', '% dry mass', 'at-least', 30, 29.9],
    ['organic-matter', '% dry mass', 'at-most', 65, 65.1],
  ])('%s in %s, %s', (parameter, unit, bound, met, unmet) => {
    const state = (value: number) =>
      under(`mn-stormwater-${parameter}-${bound}`, result(parameter, value, unit)).state;
    expect([state(met), state(unmet)]).toEqual(['met', 'unmet']);
  });

  it('C:N: nitrogen released under 20, tied up above 30, and no word of what lies between', () => {
    const at = (value: number) => under('clemson-c-n', result('carbon-to-nitrogen', value, ':1')).class;
    expect([at(19.9), at(20), at(30), at(30.1)]).toEqual([
      'releases nitrogen',
      'between the two',
      'between the two',
      'likely ties up nitrogen',
    ]);
  });
});

describe('the bioassay for persistent herbicides', () => {
  const found = (plants: number, control?: number) =>
    assessSample([
      result('cupped-plants', plants, '% of plants'),
      ...(control === undefined ? [] : [result('cupped-plants-control', control, '% of plants')]),
    ]).find(({ parameter }) => parameter === 'herbicide-bioassay');

  it.each([
    [0, 0, 'met'],
    [10, 0, 'unmet'],
    [30, 20, 'unmet'],
    [20, 20, 'unknown'],
    [0, 20, 'unknown'],
    [0, undefined, 'unknown'],
  ])('%s %% of plants cupped against %s %% in the control: %s', (plants, control, state) => {
    expect(found(plants, control)?.state).toBe(state);
  });

  it('names its source and what it cannot tell', () => {
    expect(found(10, 0)?.text).toMatch(/Washington State University.*not which one/);
  });
});
