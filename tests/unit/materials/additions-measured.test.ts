import { describe, expect, it } from 'vitest';
import type { AdditionsAnswer } from '#libs/materials';
import { ask, barrow, candidate, chips, figure, ratio, scraps, target, water } from './additions-example.js';

describe('as measured out', () => {
  it('goes by half containers that keep every target, the least that do', async () => {
    const { additions, afterMeasured, missedMeasured } = await ask({
      candidates: [candidate(chips, { measure: barrow }), candidate(water)],
    });
    const [{ massG, volumeMl, dose }] = additions as [AdditionsAnswer['additions'][number]];
    // Half a barrow of chips is 45 L at 250 g/L.
    const halves = Math.ceil(massG / 11_250);
    expect(dose).toEqual({ by: 'container', halves, massG: halves * 11_250, volumeMl: halves * 45_000 });
    expect(volumeMl).toBe(massG * 4);
    expect(missedMeasured).toEqual([]);
    expect(afterMeasured!.estimatedG).toBe(dose.massG);
  });

  it('goes by whole litres up where nothing of known volume is named, and tells the mix with those', async () => {
    const { additions, after, afterMeasured } = await ask({
      candidates: [candidate(chips)],
      targets: [target('moisturePercent', null, 60)],
    });
    const [{ massG, dose }] = additions as [AdditionsAnswer['additions'][number]];
    // 500 kg at 69 % need 112.5 kg of chips at 20 %, which are 450 L at 250 g/L; the first whole litre does.
    expect([massG, dose]).toEqual([
      112_500,
      { by: 'volume', halves: null, massG: 112_500, volumeMl: 450_000 },
    ]);
    const dry = { ...chips, moisturePercent: figure(20.13) };
    const odd = await ask({ candidates: [candidate(dry)], targets: [target('moisturePercent', null, 60)] });
    const rounded = odd.additions[0]!.dose;
    expect(odd.additions[0]!.volumeMl! % 1000).not.toBe(0);
    expect(rounded.volumeMl).toBe(Math.ceil(odd.additions[0]!.volumeMl! / 1000) * 1000);
    expect(rounded.massG).toBe(rounded.volumeMl! / 4);
    expect(odd.afterMeasured!.value.moisturePercent).toBeLessThan(odd.after!.value.moisturePercent!);
    expect(afterMeasured!.value).toEqual(after!.value);
  });

  it('goes by whole kilograms up where the density is unknown', async () => {
    const light = { ...chips, bulkDensityKgM3: null };
    const { additions } = await ask({ candidates: [candidate(light, { measure: barrow })] });
    const [{ massG, volumeMl, dose }] = additions as [AdditionsAnswer['additions'][number]];
    expect([volumeMl, dose]).toEqual([
      null,
      { by: 'mass', halves: null, massG: Math.ceil(massG / 1000) * 1000, volumeMl: null },
    ]);
  });

  it('goes finer where rounding up would step over the other end', async () => {
    const parts = [{ material: scraps, massG: 5_000, estimatedG: 0, estimatedMl: 0 }];
    // 1.8 kg of chips at 20 % make 56 %; they are 7.4 L, and a tenth of a litre more or less is a tenth of a per cent.
    const asked = (min: number, max: number) =>
      ask({ parts, candidates: [candidate(chips)], targets: [target('moisturePercent', min, max)] });
    const wide = await asked(55, 56);
    expect(wide.additions[0]!.dose.volumeMl! % 100).toBe(0);
    const narrow = await asked(55.98, 56);
    expect(narrow.additions[0]!.dose.volumeMl! % 100).not.toBe(0);
    expect(narrow.additions[0]!.dose.volumeMl! % 10).toBe(0);
    for (const { afterMeasured, additions } of [wide, narrow]) {
      expect(afterMeasured!.value.moisturePercent).toBeLessThanOrEqual(56);
      expect(additions[0]!.dose.massG).toBeGreaterThanOrEqual(additions[0]!.massG);
    }
    expect(narrow.afterMeasured!.value.moisturePercent).toBeGreaterThanOrEqual(55.98);
  });

  it('measures out nothing where all there is goes in, and no more than there is', async () => {
    const exact = (await ask({ candidates: [candidate(chips)] })).additions[0]!;
    expect(exact.isAll).toBe(false);
    const asked = (availableG: number) =>
      ask({ candidates: [candidate(chips, { measure: barrow, availableG })] });
    const all = await asked(exact.massG);
    expect(all).toMatchObject({
      missedMeasured: [],
      additions: [{ massG: exact.massG, isAll: true, dose: { by: 'all', massG: exact.massG } }],
    });
    expect(all.afterMeasured).toEqual(all.after);
    const some = await asked(exact.massG + 1);
    expect(some.additions[0]!.dose.massG).toBeLessThanOrEqual(exact.massG + 1);
  });

  it('weighs what half containers are too coarse for, and names for which figures', async () => {
    const { state, missedMeasured, additions, afterMeasured } = await ask({
      parts: [{ material: scraps, massG: 5_000, estimatedG: 0, estimatedMl: 0 }],
      candidates: [candidate(chips, { measure: barrow })],
      targets: [ratio],
    });
    expect([state, missedMeasured]).toEqual(['found', ['carbonToNitrogen']]);
    const [{ massG, dose }] = additions as [AdditionsAnswer['additions'][number]];
    expect(dose).toMatchObject({ by: 'mass', halves: null, massG: Math.ceil(massG / 100) * 100 });
    expect(dose.volumeMl).toBe(dose.massG * 4);
    expect(afterMeasured!.value.carbonToNitrogen).toBeGreaterThanOrEqual(25);
    expect(afterMeasured!.value.carbonToNitrogen).toBeLessThanOrEqual(30);
  });
});
