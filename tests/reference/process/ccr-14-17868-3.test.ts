/**
 * 14 CCR 17868.3, California:
 * - (b)(2) windrow: 55 °C or higher for 15 days or longer, with at least five turnings; readings 12 to 24 inches below
 *   the surface. Read in site reports and files that quote the section.
 * - (b)(3) aerated static pile: 55 °C for 3 days, from memory; readings 12 to 18 inches below the insulating cover, read
 *   in a file of 2009.
 * - (b)(1) enclosed or within-vessel: 55 °C for 3 days, from memory.
 * 12 inches are 304.8 mm, 305 in whole millimetres. The text does not say whether the days must be consecutive.
 */
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { at, checkAt, judge, ruleOf } from './history.js';

const windrow = 'us-ca-17868-3-windrow';
const pile = 'us-ca-17868-3-static-aerated';
const vessel = 'us-ca-17868-3-in-vessel';

describe('windrow: 15 days and five turnings', () => {
  const turnHours = [50, 100, 200, 250, 355];
  itAsks(windrow, { celsius: 55, hours: 360, turnHours, time: 'unsaid' });
});

describe.each([pile, vessel])('%s: 3 days', (code) => {
  itAsks(code, { celsius: 55, hours: 72, time: 'unsaid' });
});

describe('probe depth', () => {
  const at55 = (depthMm: number | null) => [0, 24, 48, 72].map((hour) => checkAt(hour, 55, depthMm));

  it.each([windrow, pile])('of %s: 12 inches count', (code) => {
    expect(judge(code, { checks: at55(305) }).creditedHours).toBe(72);
  });

  it.each([windrow, pile])('of %s: a millimetre less does not, nor a depth nobody wrote down', (code) => {
    expect(judge(code, { checks: at55(304) })).toMatchObject({
      status: 'insufficient-data',
      creditedHours: 0,
    });
    expect(judge(code, { checks: at55(null) })).toMatchObject({
      status: 'insufficient-data',
      creditedHours: 0,
    });
  });

  it('of a vessel is not asked for', () => {
    expect(judge(vessel, { checks: at55(null) }).metAtMs).toBe(at(72));
  });
});

it('says what of it was not read', () => {
  expect(ruleOf(windrow)).toMatchObject({
    textStatus: 'parallel',
    fromMemory: ['that both product tests must pass'],
  });
  for (const code of [pile, vessel]) expect(ruleOf(code).textStatus).toBe('from-memory');
  for (const code of [windrow, pile, vessel])
    expect(ruleOf(code).microbes).toMatchObject({ logic: 'both', textStatus: 'from-memory' });
});
