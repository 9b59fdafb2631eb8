/**
 * 40 CFR Part 503, Appendix B, (B)(1), processes to further reduce pathogens, composting:
 * - windrow: 55 °C or higher for 15 days or longer, with a minimum of five turnings while at 55 °C or higher;
 * - static aerated pile and within-vessel: 55 °C or higher for 3 days.
 *
 * The figures were read in two legal texts that repeat the federal words: Wis. Adm. Code NR 204.07(6)(a)2.b ("55 C or
 * higher for 15 days or longer ... minimum of 5 windrow turnings") and 30 TAC 332.23(2). The text does not say whether
 * the days must be consecutive; a day is taken as 24 hours. 55 °C is 131 °F exactly.
 */
import { evaluateProcess, processRule, type Check, type Turn, type Verdict } from '#libs/process';
import { describe, expect, it } from 'vitest';

const hourMs = 3_600_000;
const builtMs = Date.parse('2024-05-06T08:00-06:00');
const at = (hours: number) => builtMs + hours * hourMs;

/** Checks every 12 hours from hour 0 to `lastHour`, and one at the last hour itself, all exactly at 55 °C. */
function heldFor(lastHour: number): Check[] {
  const hours = Array.from({ length: Math.floor(lastHour / 12) + 1 }, (_, index) => index * 12);
  return [...new Set([...hours, lastHour])].map((hour) => checkAt(hour, 550));
}

function checkAt(hour: number, temperatureDeciC: number): Check {
  return {
    id: `check-${hour}`,
    occurredAtMs: at(hour),
    readings: [{ position: 'core', depthMm: 450, temperatureDeciC }],
  };
}

function judge(code: string, checks: readonly Check[], turnHours: readonly number[] = []): Verdict {
  const rule = processRule(code);
  if (rule === undefined) throw new Error(`no rule ${code}`);
  const turns = turnHours.map((hour): Turn => ({ occurredAtMs: at(hour), kind: 'turn' }));
  const rawAdditions = [{ occurredAtMs: builtMs, what: 'food scraps' }];
  return evaluateProcess(rule, { timeZone: 'America/Denver', rawAdditions, checks, turns }, at(1000));
}

describe('windrow: 15 days and five turnings', () => {
  const code = 'us-503-pfrp-windrow';
  const fiveTurns = [60, 120, 180, 240, 300];

  it('is met at the hour', () => {
    const verdict = judge(code, heldFor(360), fiveTurns);
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(360), creditedHours: 360, turnsCredited: 5 });
    expect(verdict.rule.citation).toBe('40 CFR 503 Appendix B, (B)(1)');
  });

  it('is missed by one hour', () => {
    expect(judge(code, heldFor(359), fiveTurns)).toMatchObject({
      metAtMs: null,
      creditedHours: 359,
      turnsCredited: 5,
    });
  });

  it('is missed by one turn', () => {
    expect(judge(code, heldFor(360), fiveTurns.slice(1))).toMatchObject({ metAtMs: null, turnsCredited: 4 });
  });

  it('does not count a turn made outside the time at 55 °C', () => {
    expect(judge(code, heldFor(360), [60, 120, 180, 240, 361])).toMatchObject({
      metAtMs: null,
      turnsCredited: 4,
    });
  });

  it('is missed when one check is a tenth of a degree short', () => {
    const checks = [...heldFor(360), checkAt(180.5, 549)];
    expect(judge(code, checks, fiveTurns)).toMatchObject({ metAtMs: null, creditedHours: 168 });
  });

  it('says what it had to decide', () => {
    const { notes } = judge(code, heldFor(360), fiveTurns);
    expect(notes.join('\n')).toContain(
      'does not say whether its time must be consecutive. Here it is read as consecutive',
    );
    expect(notes.join('\n')).toContain('The 36 hours used here');
    expect(notes.join('\n')).toContain('30 TAC 332.23(2)');
  });
});

describe.each(['us-503-pfrp-static-aerated', 'us-503-pfrp-in-vessel'])('%s: 3 days', (code) => {
  it('is met at the hour, without any turn', () => {
    expect(judge(code, heldFor(72))).toMatchObject({ status: 'met', metAtMs: at(72), creditedHours: 72 });
  });

  it('is missed by one hour', () => {
    expect(judge(code, heldFor(71))).toMatchObject({ metAtMs: null, creditedHours: 71 });
  });

  it('is missed when one check is a tenth of a degree short', () => {
    expect(judge(code, [...heldFor(72), checkAt(40, 549)])).toMatchObject({
      metAtMs: null,
      creditedHours: 24,
    });
  });
});
