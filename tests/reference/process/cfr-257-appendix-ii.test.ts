/**
 * 40 CFR Part 257, Appendix II, B, processes to further reduce pathogens, composting, read in the text itself:
 * - windrow: 55 °C or greater for at least 15 days during the composting period, with a minimum of five turnings during
 *   the high temperature period;
 * - within-vessel and static aerated pile: 55 °C or greater for three days.
 * It does not say whether the days must be consecutive.
 */
import { describe } from 'vitest';
import { itAsks } from './boundaries.js';

describe('windrow: 15 days during the composting period and five turnings', () => {
  const turnHours = [12, 100, 200, 300, 359];
  itAsks('us-257-pfrp-windrow', { celsius: 55, hours: 360, turnHours, time: 'unsaid' });
});

describe('within-vessel and static aerated pile: three days', () => {
  itAsks('us-257-pfrp-static-or-vessel', { celsius: 55, hours: 72, time: 'unsaid' });
});
