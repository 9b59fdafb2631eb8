/**
 * Rottegrad by the rise of a Dewar vessel above ambient: V 0–10 °C, IV 10–20, III 20–30, II 30–40, I above 40.
 * Brinton et al. 1995, BioCycle, Standardized test for evaluation of compost self-heating: from memory. Of the same
 * classes a German plant description (paderkompost.de) gives 50–60 °C in a room of 20 °C for II and 60–70 °C for I.
 */
import { describe, expect, it } from 'vitest';
import { result, under } from './read.js';

const degreeAt = (rise: number, unit = 'C above ambient') =>
  under('dewar-rottegrad', result('self-heating', rise, unit)).class?.split(':')[0];

describe('Rottegrad', () => {
  it.each([
    [0, 'V'],
    [9.9, 'V'],
    [10, 'IV'],
    [19.9, 'IV'],
    [20, 'III'],
    [29.9, 'III'],
    [30, 'II'],
    [40, 'II'],
    [40.1, 'I'],
    [50, 'I'],
  ])('of a rise of %d °C is %s', (rise, degree) => {
    expect(degreeAt(rise)).toBe(degree);
  });

  it('agrees with the maxima that the plant description gives in a room of 20 °C', () => {
    for (const maximum of [50.1, 59.9]) expect(degreeAt(maximum - 20)).toBe('II');
    for (const maximum of [60.1, 70]) expect(degreeAt(maximum - 20)).toBe('I');
  });

  it('takes a rise in °F for what it is: 18 °F are 10 °C, without the 32', () => {
    expect(degreeAt(18, 'F above ambient')).toBe('IV');
    expect(degreeAt(17.9, 'F above ambient')).toBe('V');
  });

  it('says on which side a shared edge was put, and that the figures are from memory', () => {
    const finding = under('dewar-rottegrad', result('self-heating', 40, 'C above ambient'));
    expect(finding).toMatchObject({ state: 'classed', textStatus: 'from-memory', limit: null });
    expect(finding.text).toMatch(/an edge that two classes share is put into the less stable/);
    expect(finding.text).toMatch(/Figures from memory: compare them with the text in force\.$/);
  });
});
