/**
 * 40 CFR Part 503, Appendix B, (B)(1), processes to further reduce pathogens, composting:
 * - windrow: 55 °C or higher for 15 days or longer, with a minimum of five turnings while at 55 °C or higher;
 * - static aerated pile and within-vessel: 55 °C or higher for 3 days.
 *
 * The figures were read in two legal texts that repeat the federal words: Wis. Adm. Code NR 204.07(6)(a)2.b ("55 C or
 * higher for 15 days or longer ... minimum of 5 windrow turnings") and 30 TAC 332.23(2). The text does not say whether
 * the days must be consecutive; a day is taken as 24 hours. 55 °C is 131 °F exactly.
 *
 * 40 CFR 503.32(a), with every route to class A: fecal coliform below 1,000 MPN/g or Salmonella below 3 MPN/4 g, dry.
 * Read in 15A NCAC 02T .1106(a)(2) and OAR 340-096-0140, which repeat it.
 */
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { checkAt, held, judge, ruleOf } from './history.js';

const windrow = 'us-503-pfrp-windrow';
const fiveTurns = [60, 120, 180, 240, 300];

describe('windrow: 15 days and five turnings', () => {
  itAsks(windrow, { celsius: 55, hours: 360, turnHours: fiveTurns, time: 'unsaid' });

  it('does not count a turn made outside the time at 55 °C', () => {
    const turnHours = [60, 120, 180, 240, 361];
    expect(judge(windrow, { checks: held(360, 55), turnHours })).toMatchObject({
      metAtMs: null,
      turnsCredited: 4,
    });
  });

  it('is missed when one check is a tenth of a degree short', () => {
    const checks = [...held(360, 55), checkAt(180.5, 54.9)];
    expect(judge(windrow, { checks, turnHours: fiveTurns })).toMatchObject({
      metAtMs: null,
      creditedHours: 168,
    });
  });

  it('is missed by a day on which nobody looked', () => {
    const checks = [...held(180, 55), ...held(408, 55, 228)];
    expect(judge(windrow, { checks, turnHours: fiveTurns })).toMatchObject({
      metAtMs: null,
      creditedHours: 180,
    });
  });

  it('says what it had to decide', () => {
    const notes = judge(windrow, { checks: held(360, 55), turnHours: fiveTurns }).notes.join('\n');
    expect(notes).toContain(
      'does not say whether its time must be consecutive. Here it is read as consecutive',
    );
    expect(notes).toContain('The 36 hours used here');
    expect(notes).toContain('30 TAC 332.23(2)');
  });
});

describe.each(['us-503-pfrp-static-aerated', 'us-503-pfrp-in-vessel'])('%s: 3 days', (code) => {
  itAsks(code, { celsius: 55, hours: 72, time: 'unsaid' });

  it('is missed when one check is a tenth of a degree short', () => {
    const checks = [...held(72, 55), checkAt(40, 54.9)];
    expect(judge(code, { checks })).toMatchObject({ metAtMs: null, creditedHours: 24 });
  });
});

it.each([windrow, 'us-503-pfrp-static-aerated', 'us-503-pfrp-in-vessel'])(
  '%s goes with one of two tests of the product',
  (code) => {
    expect(ruleOf(code).microbes).toMatchObject({
      logic: 'either',
      tests: [
        { microbe: 'fecal-coliform', below: 1000, unit: 'MPN/g dry' },
        { microbe: 'salmonella', below: 3, unit: 'MPN/4 g dry' },
      ],
      citation: '40 CFR 503.32(a)',
    });
  },
);
