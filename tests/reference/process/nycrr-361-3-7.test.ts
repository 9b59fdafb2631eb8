/**
 * 6 NYCRR 361-3.7(a)(1)(i)(a), New York, read in the text itself:
 * - windrow: 55 °C or more for 15 consecutive days, with at least five turns in that time;
 * - aerated static pile or vessel: 55 °C or more for 3 consecutive days;
 * - with fecal coliform below 1,000 MPN/g or Salmonella below 3 MPN/4 g.
 */
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { ruleOf } from './history.js';

const windrow = 'us-ny-361-3-7-windrow';
const pile = 'us-ny-361-3-7-static-or-vessel';

describe('windrow: 15 consecutive days and five turns', () => {
  const turnHours = [72, 144, 216, 288, 360];
  itAsks(windrow, { celsius: 55, hours: 360, turnHours, time: 'unbroken' });
});

describe('aerated static pile or vessel: 3 consecutive days', () => {
  itAsks(pile, { celsius: 55, hours: 72, time: 'unbroken' });
});

it.each([windrow, pile])('%s goes with one of two tests of the product', (code) => {
  expect(ruleOf(code).microbes).toMatchObject({
    logic: 'either',
    tests: [
      { microbe: 'fecal-coliform', below: 1000 },
      { microbe: 'salmonella', below: 3 },
    ],
  });
});
