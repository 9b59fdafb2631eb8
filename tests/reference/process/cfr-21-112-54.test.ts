/**
 * 21 CFR 112.54(b), treated biological soil amendments on produce farms:
 * - (1) static composting with air: 131 °F (55 °C) for 3 consecutive days;
 * - (2) turned composting: 131 °F for 15 days, which need not be consecutive, with a minimum of five turnings.
 * Read on the pages of two State extension services: Michigan State University ("131 F for 15 days not necessarily
 * consecutive ... turned at least five times") and LSU AgCenter 3838-B.
 *
 * 21 CFR 112.55(b), read in the text itself: Salmonella not detected (3 MPN/4 g) and fecal coliform below 1,000 MPN/g.
 */
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { ruleOf } from './history.js';

const turned = 'us-fda-112-54-turned';
const still = 'us-fda-112-54-static';

describe('turned composting: 15 days that need not be consecutive', () => {
  const turnHours = [70, 140, 210, 280, 350];
  itAsks(turned, { celsius: 55, hours: 360, turnHours, time: 'added-up' });
});

describe('static composting: 3 consecutive days', () => {
  itAsks(still, { celsius: 55, hours: 72, time: 'unbroken' });
});

it.each([turned, still])('%s goes with both tests of the product', (code) => {
  expect(ruleOf(code).microbes).toMatchObject({
    logic: 'both',
    tests: [
      { microbe: 'fecal-coliform', below: 1000, unit: 'MPN/g dry' },
      { microbe: 'salmonella', below: 3, unit: 'MPN/4 g dry' },
    ],
    citation: '21 CFR 112.55(b)',
  });
});
