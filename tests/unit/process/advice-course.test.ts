import { describe, expect, it } from 'vitest';
import { raw, turn } from './batch.js';
import { actionsOf, advise, causesOf, cautionsOf, find, keysOf, mix, visit } from './advice-batch.js';

describe('not heating', () => {
  const cold = (days: number, celsius = 30) => advise({ checks: [visit(days, [celsius])] });

  it('is watched after three days below 43 °C, and looked into after seven below 55 °C', () => {
    expect(keysOf(cold(2))).toEqual([]);
    expect(find(cold(3), 'not-heating').urgency).toBe('watch');
    expect(keysOf(cold(3, 43.4))).toEqual([]);
    expect(keysOf(cold(6, 54.9))).toEqual([]);
    expect(find(cold(7, 54.9), 'not-heating').urgency).toBe('soon');
    expect(keysOf(cold(7, 55))).toEqual([]);
  });

  it('counts from the last raw material', () => {
    expect(keysOf(advise({ checks: [visit(8, [30])], rawAdditions: [raw(0), raw(150)] }))).toEqual([]);
  });

  it('says when it was filled, what is hottest now and what was hottest at all', () => {
    const { seen } = find(advise({ checks: [visit(6, [50]), visit(8, [40])] }), 'not-heating');
    expect(seen).toEqual([
      'Raw material last went in on 6 May 2024 08:00, 8 days before the last check.',
      'Check of 14 May 2024 08:00: hottest probe, core-1, 40 °C (104 °F).',
      'The hottest since then is 50 °C (122 °F), at the check of 12 May 2024 08:00.',
    ]);
  });

  it('tells all causes in the order of the trade where nothing speaks for one', () => {
    const advice = find(cold(8), 'not-heating');
    expect(causesOf(advice)).toEqual([
      ...['little-air', 'dry', 'wet', 'dense', 'mixing', 'little-nitrogen', 'small', 'cold-air'],
    ]);
    expect(actionsOf(advice).slice(0, 2)).toEqual(['squeeze-test', 'look-into']);
  });

  it.each([
    ['dry', visit(8, [30], { moisture: 'dry' }), mix(), 'water'],
    ['dry', visit(8, [30], { moisturePercent: 39.9 }), mix(), 'water'],
    ['wet', visit(8, [30], { moisturePercent: 65.1 }), mix(), 'mix-dry'],
    ['little-nitrogen', visit(8, [30], { moisture: 'moist' }), mix({ carbonToNitrogen: 40.5 }), 'mix-greens'],
    ['small', visit(8, [30], { moisture: 'moist' }), mix({ volumeMl: 700_000 }), 'make-bigger'],
    ['dense', visit(8, [30], { moisture: 'moist' }), mix({ bulkDensityKgM3: 720 }), 'mix-coarse'],
    ['cold-air', visit(8, [30], { moisture: 'moist', ambientDeciC: -50 }), mix(), 'insulate'],
    ['little-air', visit(8, [30], { moisture: 'moist', oxygenPercent: 4 }), mix(), 'turn'],
  ])('puts first what the records speak for: %s', (cause, check, built, action) => {
    const advice = find(advise({ checks: [check], mix: built, turns: [turn(180)] }), 'not-heating');
    expect(advice.causes[0]).toMatchObject({ key: cause, seen: expect.any(String) });
    expect(advice.causes.slice(1).every(({ seen }) => seen === null)).toBe(true);
    expect(actionsOf(advice)).toContain(action);
  });

  it('leaves out what the records speak against', () => {
    const check = visit(8, [30, 29], { moisturePercent: 55, ambientDeciC: 180 });
    const built = mix({ carbonToNitrogen: 28, volumeMl: 4_000_000, bulkDensityKgM3: 600 });
    const advice = find(advise({ checks: [check], mix: built, turns: [turn(180)] }), 'not-heating');
    expect(causesOf(advice)).toEqual(['little-air']);
  });

  it('takes the moisture of the mix where nobody felt the pile', () => {
    const advice = find(
      advise({ checks: [visit(8, [30])], mix: mix({ moisturePercent: 35 }), turns: [turn(180)] }),
      'not-heating',
    );
    expect(advice.causes[0]).toMatchObject({ key: 'dry', seen: 'The mix was built at 35 % water.' });
  });

  it('warns that what is mixed in starts the rule anew', () => {
    const advice = find(cold(8), 'not-heating');
    expect(cautionsOf(advice, 'mix-greens')).toContain('clock');
    expect(cautionsOf(advice, 'turn')).not.toContain('clock');
    expect(cautionsOf(advice, 'turn')).toEqual(expect.arrayContaining(['hot', 'spores', 'lifting', 'wash']));
  });

  it('asks nobody to turn a pile that is not turned', () => {
    const advice = find(advise({ checks: [visit(8, [30])], method: 'static-aerated' }), 'not-heating');
    expect(actionsOf(advice)).toEqual(expect.arrayContaining(['aerate', 'remix', 'water-from-above']));
    for (const key of ['turn', 'turn-outside-in', 'water']) expect(actionsOf(advice)).not.toContain(key);
  });
});

describe('finished or only stalled', () => {
  const hot = visit(5, [62]);
  const course = (seen: object, turns: ReturnType<typeof turn>[] = []) =>
    advise({ checks: [hot, visit(15, [40], seen), visit(20, [32], seen)], turns });
  const late = [turn(16 * 24)];

  it('is stalled where it cooled dry or wet', () => {
    const dry = find(course({ moisture: 'dry' }, late), 'stalled');
    expect(dry.causes[0]).toMatchObject({ key: 'dry' });
    expect(dry.seen).toEqual([
      'It had been at 62 °C (143.6 °F), at the check of 11 May 2024 08:00.',
      'Check of 26 May 2024 08:00: hottest probe, core-1, 32 °C (89.6 °F).',
      'Check of 26 May 2024 08:00: dry by the hand.',
    ]);
    expect(find(course({ moisturePercent: 70 }, late), 'stalled').causes[0]).toMatchObject({ key: 'wet' });
  });

  it('is likely finished where it is moist, was turned and stayed cool', () => {
    const advice = find(course({ moisture: 'moist' }, late), 'finishing');
    expect(advice.urgency).toBe('watch');
    expect(advice.seen.at(-1)).toBe('It was turned on 22 May 2024 08:00 and has not reheated.');
    expect(actionsOf(advice)).toContain('see-the-rule');
  });

  it('cannot be told while nobody felt it, nobody turned it, or the turn is too recent', () => {
    expect(keysOf(course({}, late))).toContain('cooled');
    expect(keysOf(course({ moisture: 'moist' }))).toContain('cooled');
    expect(keysOf(course({ moisture: 'moist' }, [turn(3 * 24)]))).toContain('cooled');
    expect(keysOf(course({ moisture: 'moist' }, [turn(18 * 24)]))).toContain('cooled');
  });

  it('says how far it is above the air', () => {
    const { seen } = find(course({ ambientDeciC: 185 }), 'cooled');
    expect(seen).toContain('The air was at 18.5 °C (65.3 °F), so the pile is 13.5 °C above it.');
  });

  it('is none of them while it is warm, or before it was hot', () => {
    expect(keysOf(advise({ checks: [hot, visit(8, [43.4])] }))).toEqual([]);
    expect(keysOf(advise({ checks: [visit(1, [50]), visit(2, [40])] }))).toEqual([]);
  });
});

describe('not looked at', () => {
  it.each([
    [2.9, undefined],
    [3, 'watch'],
    [7, 'soon'],
  ])('an active pile after %s days: %s', (days, urgency) => {
    const advice = advise({ checks: [visit(5, [60])] }, 5 + days);
    expect(advice.find(({ key }) => key === 'not-checked')?.urgency).toBe(urgency);
  });

  it('counts from the filling where nobody ever looked', () => {
    const [advice] = advise({}, 4);
    expect(advice).toMatchObject({ key: 'not-checked' });
    expect(advice?.seen).toEqual([
      'Neither a check nor a logger has read it since raw material went in on 6 May 2024 08:00, 4 days ago.',
    ]);
  });

  it('gives a curing pile a week', () => {
    const curing = { stage: 'curing', checks: [visit(5, [30])] } as const;
    expect(keysOf(advise(curing, 12.9))).toEqual([]);
    expect(keysOf(advise(curing, 13))).toEqual(['not-checked']);
  });

  it('says nothing of a batch that nothing is known of', () => {
    expect(advise({ rawAdditions: [] }, 40)).toEqual([]);
  });
});
