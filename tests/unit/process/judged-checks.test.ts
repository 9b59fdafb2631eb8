import { describe, expect, it } from 'vitest';
import { type Check, judgeChecks } from '#libs/process';

const rule = { governing: 'coldest', minimumProbes: 2, minimumZones: 1, minimumDepthMm: 300 } as const;

function check(...readings: [depthMm: number | null, temperatureDeciC: number][]): Check {
  const probes = readings.map(([depthMm, temperatureDeciC], index) => ({
    position: `core-${index}`,
    depthMm,
    temperatureDeciC,
  }));
  return { id: 'one', occurredAtMs: 0, readings: probes };
}

const judged = (one: Check, by: Parameters<typeof judgeChecks>[0] = rule) => judgeChecks(by, [one])[0];

describe('a check by itself', () => {
  it('is governed by its coldest probe that is deep enough', () => {
    expect(judged(check([400, 600], [300, 580], [100, 200]))).toEqual({
      checkId: 'one',
      governingDeciC: 580,
      lack: null,
    });
  });

  it('is governed by the mean where the rule says so', () => {
    expect(judged(check([400, 600], [300, 580]), { ...rule, governing: 'mean' })?.governingDeciC).toBe(590);
  });

  it('counts for nothing with fewer probes than asked, or too few of them deep enough', () => {
    expect(judged(check([400, 600]))).toMatchObject({
      governingDeciC: 600,
      lack: 'Fewer probes than the 2 asked for.',
    });
    expect(judged(check([400, 600], [100, 500]))).toMatchObject({
      governingDeciC: 600,
      lack: 'Fewer than 2 probes known to be at 30 cm or deeper.',
    });
    expect(judged(check([100, 600], [200, 610]))?.governingDeciC).toBeNull();
  });

  it('lets a probe of unknown depth count against the batch, never for it', () => {
    expect(judged(check([400, 600], [null, 450]))).toMatchObject({
      governingDeciC: 450,
      lack: 'Fewer than 2 probes known to be at 30 cm or deeper.',
    });
  });
});
