/**
 * 30 TAC 332.23(2), Texas, read in the text itself:
 * - (A) within-vessel or static aerated pile: 55 °C or higher for three days;
 * - (B) windrow: 55 °C or higher for 15 days or longer, with a minimum of five turnings in that period.
 * It does not say whether the days must be consecutive.
 */
import { describe } from 'vitest';
import { itAsks } from './boundaries.js';

describe('windrow: 15 days and five turnings', () => {
  const turnHours = [30, 110, 190, 270, 350];
  itAsks('us-tx-332-23-windrow', { celsius: 55, hours: 360, turnHours, time: 'unsaid' });
});

describe('within-vessel or static aerated pile: three days', () => {
  itAsks('us-tx-332-23-static-or-vessel', { celsius: 55, hours: 72, time: 'unsaid' });
});
