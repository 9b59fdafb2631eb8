import { describe, expect, it } from 'vitest';
import {
  massUse,
  massWarnings,
  materialWarnings,
  permitWarnings,
  volumeUse,
  volumeWarnings,
} from '#libs/accounting';

const T = 1_000_000;
const recent = { days: 56, massG: 5.6 * T }; // 100 kg a day

describe('massUse', () => {
  it('goes on as lately to the end of the period', () => {
    expect(massUse(40 * T, 60 * T, 100, recent)).toEqual({
      ...{ usedG: 40 * T, limitG: 60 * T, leftG: 20 * T, share: 40 / 60, projectedG: 50 * T },
    });
  });

  it('has no projection where nothing is known of lately, and no share where there is no limit', () => {
    expect(massUse(5, 10, 100, { days: 0, massG: 0 }).projectedG).toBeNull();
    expect(massUse(5, null, 1, recent)).toMatchObject({ limitG: null, leftG: null, share: null });
  });

  it('is below nothing beyond the limit, and takes no mass below nothing', () => {
    expect(massUse(12, 10, 0, recent).leftG).toBe(-2);
    expect(() => massUse(-1, 10, 0, recent)).toThrow(RangeError);
  });
});

describe('massWarnings', () => {
  const of = (usedG: number, daysLeft: number) =>
    massWarnings('yearly-mass', massUse(usedG, 60 * T, daysLeft, recent)).map(({ text }) => text);

  it('say nothing while little is used and the year will hold it', () => {
    expect(of(47.9 * T, 100)).toEqual([]);
  });

  it('begin at 80 %', () => {
    expect(of(48 * T, 100)).toEqual([
      '80 % is used: 48000 kg of the 60000 kg that the permit allows in a year.',
    ]);
  });

  it('come before the limit is reached, when the year will not hold what is coming', () => {
    expect(of(30 * T, 301)).toEqual([
      '50 % is used: 30000 kg of the 60000 kg that the permit allows in a year. ' +
        'If as much comes as lately, it will be 60100 kg at the end of the year: more than is allowed.',
    ]);
    expect(of(30 * T, 300)).toEqual([]);
  });

  it('tell the whole per cent that is used, where binary fractions fall short of it', () => {
    const [told] = massWarnings('yearly-mass', massUse(29 * T, 100 * T, 711, recent));
    expect(told!.text).toContain('29 % is used');
  });

  it('tell a limit that is passed', () => {
    expect(of(61 * T, 0)).toEqual([
      'The limit is passed: 61000 kg of the 60000 kg that the permit allows in a year.',
    ]);
  });
});

describe('volumeUse', () => {
  const parts = [
    { name: 'HS-26-001', volumeMl: 50_000_000 },
    { name: 'leaves', volumeMl: null },
  ];

  it('leaves open how much room is left where more lies there than is known, unless the limit is passed', () => {
    expect(volumeUse(parts, 40_000_000)).toMatchObject({ leftMl: -10_000_000, share: 1.25 });
    const little = volumeUse(
      [
        { name: 'leaves', volumeMl: null },
        { name: 'overs', volumeMl: 40_800 },
      ],
      60_000_000,
    );
    expect(little).toMatchObject({ leftMl: null, share: null });
    expect(volumeWarnings(little).map(({ text }) => text)).toEqual([
      'More lies there than 41 L: the volume of leaves is not known.',
    ]);
  });

  it('sums what is known, and names what is not', () => {
    const use = volumeUse(parts, 60_000_000);
    expect(use).toMatchObject({ usedMl: 50_000_000, unknown: ['leaves'], leftMl: null, share: null });
    expect(volumeWarnings(use).map(({ about, text }) => [about, text])).toEqual([
      ['stored-volume', 'At least 83 % is used: 50.0 m³ of the 60.0 m³ that the permit allows to be stored.'],
      ['volume-unknown', 'More lies there than 50.0 m³: the volume of leaves is not known.'],
    ]);
  });

  it('says nothing where the permit sets no limit, or there is room', () => {
    expect(volumeWarnings(volumeUse(parts, null))).toEqual([]);
    expect(volumeWarnings(volumeUse(parts.slice(0, 1), 80_000_000))).toEqual([]);
  });

  it('tells a limit that is passed', () => {
    const [warning] = volumeWarnings(volumeUse(parts, 40_000_000));
    expect(warning?.text).toMatch(/^The limit is passed: 50\.0 m³ of the 40\.0 m³/);
  });
});

describe('permitWarnings', () => {
  const until = (validTo: string | null, followed = false) =>
    permitWarnings({ reference: 'P-1', validTo }, '2026-05-02', followed).map(({ text }) => text);

  it('begin sixty days before the end, unless another permit follows', () => {
    expect(until('2026-07-02')).toEqual([]);
    expect(until('2026-07-01')).toEqual([
      'The permit P-1 ends in 60 days, on 2026-07-01, and no other is entered that follows it.',
    ]);
    expect(until('2026-05-02')[0]).toContain('ends today');
    expect(until('2026-05-03')[0]).toContain('ends tomorrow');
    expect(until('2026-05-03', true)).toEqual([]);
    expect(until(null)).toEqual([]);
  });

  it('tell that none is in force', () => {
    expect(permitWarnings(null, '2026-05-02', false)[0]?.about).toBe('no-permit');
  });
});

it('materialWarnings names what the permit does not', () => {
  expect(materialWarnings([{ name: 'Fish scraps', massG: 12_400 }])[0]?.text).toBe(
    'Fish scraps was taken in (12 kg), which the permit does not name.',
  );
});
