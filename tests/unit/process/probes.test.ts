import { describe, expect, it } from 'vitest';
import type { Check } from '#libs/process';
import { at, check, of, verdictOf } from './batch.js';

/** A check with one probe for each [depth, temperature]. */
function deep(hours: number, ...probes: [depthMm: number | null, temperatureDeciC: number][]): Check {
  return {
    id: `check-${hours}`,
    occurredAtMs: at(hours),
    readings: probes.map(([depthMm, temperatureDeciC], index) => ({
      position: `probe-${index + 1}`,
      depthMm,
      temperatureDeciC,
    })),
  };
}

describe('the governing temperature', () => {
  const checks = [check(0, 600, 600), check(10, 540, 640), check(20, 600, 600)];

  it('is that of the coldest probe', () => {
    const verdict = verdictOf(checks);
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 0, clockStartedAtMs: at(20) });
    expect(of(verdict, 'below-threshold')[0]?.text).toContain('coldest probe 54 °C (129.2 °F)');
  });

  it('is the mean where the rule says so', () => {
    expect(verdictOf(checks, { rule: { governing: 'mean' } }).creditedHours).toBe(20);
    const verdict = verdictOf([check(0, 600), check(10, 549, 550, 550)], { rule: { governing: 'mean' } });
    expect(verdict.status).toBe('interrupted');
    expect(of(verdict, 'below-threshold')[0]?.text).toContain(
      'mean of the probes 54.9 °C (130.9 °F), below 55 °C',
    );
  });
});

describe('a check with fewer probes than asked', () => {
  const rule = { minimumProbes: 2 };

  it('neither earns nor breaks when what it shows is hot', () => {
    const verdict = verdictOf([check(0, 600, 600), check(10, 600), check(20, 600, 600)], { rule });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 20 });
    expect(of(verdict, 'too-few-probes')).toMatchObject([{ fromMs: at(10), checkId: 'check-10' }]);
  });

  it('does not bridge a gap', () => {
    const verdict = verdictOf([check(0, 600, 600), check(20, 600), check(40, 600, 600)], { rule });
    expect(verdict.creditedHours).toBe(0);
    expect(of(verdict, 'gap')).toMatchObject([{ fromMs: at(0), toMs: at(40) }]);
  });

  it('breaks a run when a probe of it is cold: a cold reading is never hidden', () => {
    const verdict = verdictOf([check(0, 600, 600), check(10, 600, 600), check(15, 540)], { rule });
    expect(verdict).toMatchObject({ status: 'interrupted', creditedHours: 0 });
    expect(of(verdict, 'below-threshold')).toMatchObject([{ fromMs: at(15) }]);
  });

  it('is insufficient data when there is no other', () => {
    expect(verdictOf([check(0, 600), check(10, 600)], { rule }).status).toBe('insufficient-data');
    expect(verdictOf([check(0, 300)], { rule }).status).toBe('insufficient-data');
  });

  it('without any probe counts for nothing under any rule', () => {
    const verdict = verdictOf([check(0, 600), check(10), check(20, 600)], { rule: { minimumProbes: 0 } });
    expect(verdict.creditedHours).toBe(20);
    expect(of(verdict, 'too-few-probes')).toHaveLength(1);
  });
});

describe('a probe read twice at one visit', () => {
  const rule = { minimumProbes: 2 };
  const twice = (depthMm: number, temperatureDeciC: number): Check => ({
    ...check(20),
    readings: [
      { position: 'core', depthMm: 300, temperatureDeciC: 600 },
      { position: 'core', depthMm, temperatureDeciC },
    ],
  });
  const creditedOf = (last: Check) => verdictOf([check(0, 600, 600), last], { rule });

  it('is one probe, and at two depths it is two', () => {
    expect(creditedOf(twice(300, 610)).creditedHours).toBe(0);
    expect(of(creditedOf(twice(300, 610)), 'too-few-probes')).toHaveLength(1);
    expect(creditedOf(twice(600, 610)).creditedHours).toBe(20);
  });

  it('counts against the batch by each of its temperatures', () => {
    expect(creditedOf(twice(300, 540)).status).toBe('interrupted');
  });
});

describe('the depth of probes', () => {
  const rule = { minimumDepthMm: 300 };

  it('lets all the probes of unknown depth that make a mean worse count against it', () => {
    const mean = { ...rule, governing: 'mean' } as const;
    const statusOf = (...probes: [depthMm: number | null, temperatureDeciC: number][]) =>
      verdictOf([deep(0, [300, 600]), deep(10, ...probes)], { rule: mean }).status;
    expect(statusOf([300, 560], [300, 560], [null, 538])).toBe('in-progress');
    expect(statusOf([300, 560], [300, 560], [null, 540], [null, 540])).toBe('in-progress');
    expect(statusOf([300, 560], [300, 560], [null, 540], [null, 539])).toBe('interrupted');
    expect(statusOf([300, 560], [300, 560], [null, 700], [null, 540], [null, 539])).toBe('interrupted');
  });

  it('lets them raise a mean above the limit together', () => {
    const limited = { ...rule, governing: 'mean', upperLimitDeciC: 700 } as const;
    const statusOf = (...unsure: [depthMm: number | null, temperatureDeciC: number][]) =>
      verdictOf([deep(0, [300, 600]), deep(10, [300, 680], [300, 680], ...unsure)], { rule: limited }).status;
    expect(statusOf([null, 720], [null, 720], [null, 600])).toBe('in-progress');
    expect(statusOf([null, 721], [null, 720], [null, 600])).toBe('interrupted');
  });

  it('sets shallow probes aside, hot or cold', () => {
    const checks = [deep(0, [300, 600], [100, 400]), deep(20, [450, 600], [100, 200])];
    expect(verdictOf(checks, { rule }).creditedHours).toBe(20);
  });

  it('leaves a check of shallow probes counting for nothing', () => {
    const verdict = verdictOf([deep(0, [300, 600]), deep(10, [299, 700]), deep(20, [300, 600])], { rule });
    expect(verdict.creditedHours).toBe(20);
    expect(of(verdict, 'too-shallow')[0]?.text).toBe(
      'The check of 6 May 2024 18:00: fewer than 1 probe known to be at 30 cm or deeper, so it counts for nothing.',
    );
  });

  it('lets a probe of unknown depth count against a batch only', () => {
    expect(verdictOf([deep(0, [null, 600]), deep(10, [null, 600])], { rule }).status).toBe(
      'insufficient-data',
    );
    const cold = verdictOf([deep(0, [300, 600]), deep(10, [300, 600], [null, 500])], { rule });
    expect(cold.status).toBe('interrupted');
  });

  it('does not let a probe of unknown depth lift a mean', () => {
    const checks = [deep(0, [300, 600]), deep(10, [300, 540], [null, 700])];
    expect(verdictOf(checks, { rule: { ...rule, governing: 'mean' } }).status).toBe('interrupted');
  });

  it.each(['mean', 'coldest-zone'] as const)(
    'does not let a hot probe of unknown depth make up for a cold one (%s)',
    (governing) => {
      const visit = (hours: number, ...others: [null, number][]) => {
        const { readings, ...rest } = deep(hours, [300, 560], [null, 480], ...others);
        return { ...rest, readings: readings.map((reading) => ({ ...reading, zone: 'core' })) };
      };
      const judged = (...others: [null, number][]) =>
        verdictOf([visit(0, ...others), visit(10, ...others)], { rule: { ...rule, governing } });
      expect(judged().status).toBe('not-started');
      expect(judged([null, 700])).toMatchObject({ status: 'not-started', creditedHours: 0 });
    },
  );
});

describe('an upper limit', () => {
  const rule = { upperLimitDeciC: 767 };

  it('is kept by a check exactly at it', () => {
    expect(verdictOf([check(0, 600), check(10, 767)], { rule }).creditedHours).toBe(10);
  });

  it('breaks a run when the hottest probe passes it', () => {
    const verdict = verdictOf([check(0, 600), check(10, 600), check(20, 600, 768)], { rule });
    expect(verdict).toMatchObject({ status: 'interrupted', creditedHours: 0 });
    expect(of(verdict, 'above-limit')[0]?.text).toContain(
      "hottest probe 76.8 °C (170.3 °F), above the rule's limit of 76.7 °C (170 °F)",
    );
  });

  it('names the hottest of several checks above it', () => {
    const verdict = verdictOf([check(0, 600), check(10, 780), check(11, 800), check(12, 790)], { rule });
    expect(of(verdict, 'above-limit')).toMatchObject([{ fromMs: at(10), toMs: at(12), checkId: 'check-11' }]);
    expect(of(verdict, 'above-limit')[0]?.text).toContain('3 checks from');
    expect(of(verdict, 'above-limit')[0]?.text).toContain('hottest probe up to 80 °C (176 °F)');
  });
});

describe('checks told twice', () => {
  it('count once', () => {
    const once = verdictOf([check(0, 600), check(20, 600)]);
    const twice = verdictOf([check(20, 600), check(0, 600), check(20, 600), check(0, 600)]);
    expect(twice).toEqual(once);
  });

  it('of one instant are judged together, and the worse word stands', () => {
    const hot = { ...check(10, 600), id: 'hot' };
    const cold = { ...check(10, 500), id: 'cold' };
    const before = check(0, 600);
    const after = check(20, 600);
    const one = verdictOf([before, hot, cold, after]);
    expect(one).toMatchObject({ creditedHours: 0, clockStartedAtMs: at(20) });
    expect(of(one, 'below-threshold')).toMatchObject([{ checkId: 'cold' }]);
    expect(verdictOf([before, cold, hot, after])).toEqual(one);
  });

  it('of one instant keep the hotter end of either, too', () => {
    const rule = { upperLimitDeciC: 767 };
    const cool = { ...check(10, 560), id: 'cool' };
    const hot = { ...check(10, 800), id: 'hot' };
    expect(verdictOf([check(0, 600), cool, hot], { rule }).status).toBe('interrupted');
  });

  it('of one instant hold when one of them has the probes asked for', () => {
    const rule = { minimumProbes: 2 };
    const few = { ...check(10, 600), id: 'few' };
    expect(verdictOf([check(0, 600, 600), few, check(10, 610, 610)], { rule }).creditedHours).toBe(10);
  });

  it('do not add their probes up', () => {
    const rule = { minimumProbes: 2 };
    const twice = [check(0, 600), check(0, 600), check(10, 600), check(10, 600)];
    expect(verdictOf(twice, { rule }).status).toBe('insufficient-data');
  });
});
