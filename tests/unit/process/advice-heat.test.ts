import type { Caution } from '#libs/process';
import { describe, expect, it } from 'vitest';
import { at, turn } from './batch.js';
import { actionsOf, advise, causesOf, cautionsOf, find, keysOf, mix, visit } from './advice-batch.js';

const heatAt = (celsius: number) => keysOf(advise({ checks: [visit(5, [celsius])] }));

describe('too hot', () => {
  it.each([
    [65, []],
    [65.1, ['hot']],
    [69.9, ['hot']],
    [70, ['too-hot']],
    [74.1, ['too-hot']],
    [79.9, ['too-hot']],
    [80, ['fire-danger']],
    [85, ['fire-danger']],
    [120, ['fire-danger']],
  ])('%s °C: %j', (celsius, keys) => {
    expect(heatAt(celsius)).toEqual(keys);
  });

  it('goes by the hottest probe, and says which and when in local time', () => {
    const advice = find(advise({ checks: [visit(5, [72, 81.3, 75])] }), 'fire-danger');
    expect(advice.urgency).toBe('now');
    expect(advice.seen).toEqual(['Check of 11 May 2024 08:00: hottest probe, core-2, 81.3 °C (178.4 °F).']);
  });

  it('takes what no composting shows for a fire until somebody has looked, and for a day', () => {
    const alarms = (day: number): Caution[] => [
      {
        kind: 'implausible',
        fromMs: at(day * 24),
        toMs: at(day * 24),
        instrument: 'L-2',
        text: 'L-2: 140 °C.',
      },
    ];
    const told = (day: number) => advise({ checks: [visit(5, [40])], alarms: alarms(day) }, 5);
    expect(find(told(4), 'fire-danger')).toMatchObject({ urgency: 'now', seen: ['L-2: 140 °C.'] });
    expect(keysOf(told(3.99))).not.toContain('fire-danger');
    expect(keysOf(told(5.01))).not.toContain('fire-danger');
  });

  it('goes by the last reading of each position', () => {
    expect(keysOf(advise({ checks: [visit(5, [82]), visit(6, [60])] }))).toEqual([]);
    expect(keysOf(advise({ checks: [visit(5, [82, 60]), visit(5.1, [60])] }))).toEqual([]);
    expect(keysOf(advise({ checks: [visit(6, [82]), visit(5, [60])] }))).toEqual(['fire-danger']);
  });

  it('is not hidden by a cool reading elsewhere within a day', () => {
    const edge = (days: number, celsius: number) => {
      const check = visit(days, [celsius]);
      return { ...check, readings: check.readings.map((reading) => ({ ...reading, position: 'edge' })) };
    };
    const hidden = advise({ checks: [visit(5, [86]), edge(5 + 1 / 24, 40)] });
    expect(keysOf(hidden)).toEqual(['fire-danger']);
    expect(hidden[0]?.seen.slice(0, 2)).toEqual([
      'Check of 11 May 2024 08:00: hottest probe, core-1, 86 °C (186.8 °F).',
      'Check of 11 May 2024 09:00: that place was not read again, so it does not show that it has cooled.',
    ]);
    expect(keysOf(advise({ checks: [visit(5, [72]), edge(5.5, 40)] }))).toEqual(['too-hot']);
    expect(keysOf(advise({ checks: [visit(5, [86]), edge(6, 40)] }))).toEqual(['fire-danger']);
    expect(keysOf(advise({ checks: [visit(5, [86]), edge(6.01, 40)] }))).toEqual(['cooled']);
    expect(keysOf(advise({ checks: [visit(5, [86, 75]), visit(5.5, [40])] }))).toEqual(['too-hot']);
  });

  it('takes the hotter of two readings of one position at one instant', () => {
    const checks = [visit(5, [40]), { ...visit(5, [86]), id: 'a' }];
    expect(keysOf(advise({ checks }))).toEqual(['fire-danger']);
    expect(keysOf(advise({ checks: checks.toReversed() }))).toEqual(['fire-danger']);
  });

  it('advises nothing that opens a pile in danger of fire before the fire service is asked', () => {
    const checks = [visit(5, [83], { moisture: 'dry', odour: 'rotten', signs: ['rodents'] })];
    const advice = advise({ checks });
    expect(keysOf(advice)).toEqual(['fire-danger']);
    expect(actionsOf(advice[0]!)).toEqual([
      ...['keep-away', 'call-fire-service', 'read-again', 'cool-small-part', 'keep-watch'],
    ]);
    expect(cautionsOf(advice[0]!, 'cool-small-part')).toEqual(expect.arrayContaining(['flare', 'smoke']));
    expect(advice[0]!.seen).toHaveLength(2);
    expect(advice[0]!.causes[0]).toMatchObject({
      key: 'dry-core',
      seen: expect.stringContaining('dry by the hand'),
    });
  });

  it('asks whether the probe is right where water would have boiled away', () => {
    const { seen } = find(advise({ checks: [visit(5, [140])] }), 'fire-danger');
    expect(seen[1]).toContain('the probe or the unit is wrong');
    expect(find(advise({ checks: [visit(5, [99])] }), 'fire-danger').seen).toHaveLength(1);
  });

  it('tells of a turn since', () => {
    const facts = { checks: [visit(5, [72])], turns: [turn(5 * 24 + 2)] };
    const { seen, urgency } = find(advise(facts, 6), 'too-hot');
    expect(urgency).toBe('soon');
    expect(seen[1]).toBe('It was turned since, on 11 May 2024 10:00.');
  });

  it('blames no great size on a pile known to be small', () => {
    const checks = [visit(5, [72])];
    expect(causesOf(find(advise({ checks }), 'too-hot'))).toContain('large');
    const small = advise({ checks, mix: mix({ volumeMl: 400_000 }) });
    expect(causesOf(find(small, 'too-hot'))).not.toContain('large');
  });

  it('still warns of fire in a released or condemned pile, and of nothing else', () => {
    const checks = [visit(5, [82], { moisture: 'dry' }), visit(4, [40])];
    expect(keysOf(advise({ checks, stage: 'condemned' }))).toEqual(['fire-danger']);
    expect(keysOf(advise({ checks: [visit(5, [50], { moisture: 'dry' })], stage: 'released' }))).toEqual([]);
    expect(keysOf(advise({ checks, stage: 'emptied' }))).toEqual([]);
  });
});

describe('uneven heating', () => {
  it('begins where probes lie more than 10 °F apart', () => {
    expect(keysOf(advise({ checks: [visit(5, [60, 54.5])] }))).toEqual([]);
    const advice = find(advise({ checks: [visit(5, [60, 54.4])] }), 'uneven-heating');
    expect(advice.urgency).toBe('soon');
    expect(advice.seen).toEqual([
      'Check of 11 May 2024 08:00: core-1 60 °C (140 °F), core-2 54.4 °C (129.9 °F), 5.6 °C apart.',
    ]);
    expect(advice.causes[0]).toMatchObject({ key: 'mixing', seen: expect.stringContaining('5.6 °C apart') });
  });

  it('is only watched where every part is hot enough', () => {
    expect(find(advise({ checks: [visit(5, [64, 56])] }), 'uneven-heating').urgency).toBe('watch');
  });

  it('compares zones by the mean of their probes', () => {
    const zoned = (rim: number[], core: number[]) => {
      const check = visit(5, [...rim, ...core]);
      const readings = check.readings.map((reading, index) => ({
        ...reading,
        zone: index < rim.length ? 'rim' : 'core',
      }));
      return keysOf(advise({ checks: [{ ...check, readings }] }));
    };
    expect(zoned([52, 60], [57, 59])).toEqual([]);
    expect(zoned([44, 48], [57, 59])).toEqual(['uneven-heating']);
  });

  it('says nothing of a cold pile, of one probe, or of a curing one', () => {
    expect(keysOf(advise({ checks: [visit(1, [30, 20])] }))).toEqual([]);
    expect(keysOf(advise({ checks: [visit(5, [60])] }))).toEqual([]);
    const curing = { stage: 'curing', stageSinceMs: at(48) } as const;
    expect(keysOf(advise({ checks: [visit(5, [44, 30])], ...curing }))).toEqual([]);
  });
});

describe('reheating in the cure', () => {
  const curing = { stage: 'curing', stageSinceMs: at(240) } as const;

  it.each([
    [44.9, undefined],
    [45, 'watch'],
    [55, 'soon'],
  ])('%s °C: %s', (celsius, urgency) => {
    const advice = advise({ ...curing, checks: [visit(12, [celsius])], turns: [turn(250)] });
    expect(advice.find(({ key }) => key === 'reheated')?.urgency).toBe(urgency);
  });

  it('takes nothing from before the cure', () => {
    expect(keysOf(advise({ ...curing, checks: [visit(9, [60])] }))).toEqual([]);
  });
});
