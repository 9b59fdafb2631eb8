import { describe, expect, it } from 'vitest';
import { processRule, type ProcessRule } from '#libs/process';
import { appliedRule, ruleCodeOf } from '../../apps/api/monitoring/applied-rule.js';
import { warningsOf } from '../../apps/api/monitoring/check-warnings.js';

const WINDROW = 'us-503-pfrp-windrow';
const permit = {
  ...{ reference: 'LH-7', processRule: WINDROW, processReading: 'cumulative' as const },
  ...{ minimumProbes: 4, longestGapHours: 30 },
};
const silent = { ...permit, processReading: null, minimumProbes: null, longestGapHours: null };

describe('the rule a batch is judged by', () => {
  it('is its own before the permit’s', () => {
    expect(ruleCodeOf({ processRule: 'own' }, permit)).toBe('own');
    expect(ruleCodeOf({ processRule: null }, permit)).toBe(WINDROW);
    expect(ruleCodeOf({ processRule: null }, null)).toBeNull();
  });

  const windrow = processRule(WINDROW)!;

  it('takes probes, gap and reading from the permit, where it names them', () => {
    expect(appliedRule(windrow, permit)).toMatchObject({
      rule: { ...processRule(WINDROW), minimumProbes: 4, longestGapHours: 30 },
      reading: 'cumulative',
      notes: ['Permit LH-7 asks for 4 probes a check and at most 30 hours between checks.'],
    });
    expect(appliedRule(windrow, permit, 'consecutive').reading).toBe('consecutive');
  });

  it('takes no looser term from a permit than its own', () => {
    const closed = { ...processRule('gb-catering-closed-70')!, minimumProbes: 5 };
    expect(appliedRule(closed, permit)).toEqual({ rule: closed, reading: 'cumulative', notes: [] });
  });

  it('is as it is written where the permit says nothing', () => {
    for (const none of [silent, null]) {
      expect(appliedRule(windrow, none)).toEqual({
        rule: processRule(WINDROW),
        reading: 'consecutive',
        notes: [],
      });
    }
  });
});

describe('warnings of a check', () => {
  const rule: ProcessRule = { ...processRule(WINDROW)!, minimumProbes: 3, minimumDepthMm: 600 };
  const probe = (depthMm: number | null, temperatureDeciC = 600) => ({
    ...{ position: 'core', zone: null, instrumentId: null },
    depthMm,
    temperatureDeciC,
  });

  it('tell of every probe that will not count, and of too few', () => {
    const warnings = warningsOf([probe(null), probe(599), probe(600)], [], rule);
    expect(warnings.map(({ code, pointer }) => [code, pointer])).toEqual([
      ['depth-missing', '/readings/0/depth'],
      ['too-shallow', '/readings/1/depth'],
    ]);
    expect(warnings[1]?.text).toBe(
      `59.9 cm, where ${WINDROW} asks for 60 cm or deeper: the probe will not count.`,
    );
    expect(warningsOf([probe(600), probe(600)], [], rule).map(({ code }) => code)).toEqual([
      'too-few-probes',
    ]);
  });

  it('are none where no rule asks and nothing is near burning', () => {
    expect(warningsOf([probe(null, 799)], [], null)).toEqual([]);
    expect(warningsOf([probe(null, 800)], [], null).map(({ code }) => code)).toEqual(['too-hot']);
  });
});
