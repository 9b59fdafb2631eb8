import { describe, expect, it } from 'vitest';
import type { AdviceFacts, MixAsked } from '#libs/process';
import { raw } from './batch.js';
import { advise, mix, visit } from './advice-batch.js';

const permit = { title: 'Permit TB-3', status: 'local' } as const;
const moisture = (asked: Partial<MixAsked>): MixAsked => ({
  ...{ name: 'moisture', unit: ' %', min: 50, max: 60, value: 55, standing: 'within', source: permit },
  ...asked,
});
const ratio = moisture({
  ...{ name: 'C:N', unit: '', min: 20, max: 40, value: 14.2, standing: 'below' },
  source: { title: 'LSU AgCenter', status: 'verified' },
});

const building = (asked: readonly MixAsked[], facts: Partial<AdviceFacts> = {}) =>
  advise({ stage: 'building', mix: mix({ asked }), ...facts });

describe('a batch that is being built', () => {
  it('has its mix told first, each figure with who asks for it', () => {
    const wet = moisture({ value: 70.1, standing: 'above' });
    const [first, ...rest] = building([wet, ratio], { checks: [visit(0, [20], { odour: 'ammonia' })] });
    expect(first).toMatchObject({
      ...{ key: 'mix-missed', urgency: 'soon', source: permit },
      seen: [
        'Its moisture is 70.1 % by the typical figures of its materials; asked for: 50 to 60 %.',
        'Its C:N is 14.2 by the typical figures of its materials; asked for: 20 to 40.',
      ],
      because: 'Permit TB-3 asks for moisture 50 to 60 %. LSU AgCenter asks for C:N 20 to 40.',
    });
    expect(first?.actions.map(({ key }) => key)).toEqual(['complete-mix']);
    expect(rest.map(({ key }) => key)).toEqual(['ammonia']);
  });

  it('comes after what is on fire', () => {
    const asked = [moisture({ value: 70, standing: 'above' })];
    const keys = (celsius: number) =>
      building(asked, { checks: [visit(0, [celsius])] }).map(({ key }) => key);
    expect(keys(72)).toEqual(['too-hot', 'mix-missed']);
    expect(keys(85)).toEqual(['fire-danger']);
  });

  it('is not told to be at the limit that it is above', () => {
    const [advice] = building([moisture({ max: 65, value: 65, standing: 'above' })]);
    expect(advice?.seen[0]).toContain(
      'Its moisture is a little above 65 % by the typical figures of its materials; asked for: 50 to 65 %',
    );
    const [light] = building([moisture({ min: 40, max: null, value: 40, standing: 'below' })]);
    expect(light?.seen[0]).toContain(
      'a little below 40 % by the typical figures of its materials; asked for: from 40 %',
    );
  });

  it('is asked for the figures that nothing is known of', () => {
    const unknown = moisture({ min: null, value: null, standing: 'unknown' });
    const [advice] = building([unknown]);
    expect(advice).toMatchObject({
      ...{ key: 'mix-unknown', urgency: 'watch', seen: ['Its moisture is not known.'] },
      because: 'Permit TB-3 asks for moisture up to 60 %.',
    });
    expect(advice?.actions.map(({ key }) => key)).toEqual(['state-figures']);
  });

  it('is told nothing of a mix that is as asked, nor of one that is built', () => {
    expect(building([moisture({})])).toEqual([]);
    const missed = mix({ asked: [ratio] });
    for (const stage of ['active', 'curing', 'released', 'emptied', 'condemned'] as const)
      expect(advise({ stage, mix: missed, rawAdditions: [raw(0)] })).toEqual([]);
  });
});
