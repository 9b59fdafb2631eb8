/**
 * CCME Guidelines for Compost Quality, 2005 (PN 1340), from memory:
 * - windrow: 55 °C or greater for at least 15 days, turned at least five times (a guidance page of Manitoba says the same);
 * - in-vessel and aerated static pile: 55 °C or greater for 3 days (the page of Manitoba: three consecutive days in-vessel);
 * - fecal coliform below 1,000 MPN/g and no Salmonella (below 3 MPN/4 g).
 */
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { ruleOf } from './history.js';

const windrow = 'ca-ccme-2005-windrow';
const piles = ['ca-ccme-2005-static-aerated', 'ca-ccme-2005-in-vessel'];

describe('windrow: 15 days and five turns', () => {
  const turnHours = [40, 120, 180, 260, 340];
  itAsks(windrow, { celsius: 55, hours: 360, turnHours, time: 'unsaid' });
});

describe.each(piles)('%s: 3 days', (code) => {
  itAsks(code, { celsius: 55, hours: 72, time: 'unsaid' });
});

it.each([windrow, ...piles])(
  '%s goes with both tests of the product, and says that it is from memory',
  (code) => {
    expect(ruleOf(code)).toMatchObject({
      textStatus: 'from-memory',
      microbes: {
        logic: 'both',
        tests: [
          { microbe: 'fecal-coliform', below: 1000 },
          { microbe: 'salmonella', below: 3 },
        ],
        textStatus: 'from-memory',
      },
    });
  },
);
