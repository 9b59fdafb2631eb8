/**
 * Regulation (EU) 2019/1009, Annex II, component material category 3, compost: all parts of each batch at 70 °C or more for
 * at least 3 days, 65 °C for 5 days, 60 °C for 7 days or 55 °C for 14 days. All four from memory.
 */
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { ruleOf } from './history.js';

const profiles: [code: string, celsius: number, hours: number][] = [
  ['eu-2019-1009-70', 70, 72],
  ['eu-2019-1009-65', 65, 120],
  ['eu-2019-1009-60', 60, 168],
  ['eu-2019-1009-55', 55, 336],
];

describe.each(profiles)('%s: %d °C for %d hours', (code, celsius, hours) => {
  itAsks(code, { celsius, hours, time: 'unsaid' });

  it('says that it is from memory', () => {
    expect(ruleOf(code).textStatus).toBe('from-memory');
  });
});
