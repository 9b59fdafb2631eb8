import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { divertedG, estimatedShare, printShortTons, reportingYear } from '#libs/accounting';

describe('diverted mass', () => {
  it('is what was accepted less the residue, and may be below zero in a short period', () => {
    expect(divertedG({ acceptedG: 1_000_000, landfilledG: 12_500 })).toBe(987_500);
    expect(divertedG({ acceptedG: 0, landfilledG: 5_000 })).toBe(-5_000);
    expect(() => divertedG({ acceptedG: -1, landfilledG: 0 })).toThrow(RangeError);
    expect(() => divertedG({ acceptedG: 1, landfilledG: 0.5 })).toThrow(RangeError);
  });

  it('tells which share was estimated', () => {
    expect(estimatedShare([])).toBeNull();
    expect(estimatedShare([{ massG: 0, basis: 'volume' }])).toBeNull();
    expect(
      estimatedShare([
        { massG: 300, basis: 'scale' },
        { massG: 100, basis: 'volume' },
      ]),
    ).toBe(0.25);
  });

  it('prints short tons rounded half to even', () => {
    expect(printShortTons(90_718_474)).toBe('100.00');
    expect(printShortTons(907_184)).toBe('1.00');
    expect(printShortTons(0)).toBe('0.00');
  });
});

describe('the reporting year', () => {
  it.each([
    ['07-01', '2023-06-30', '2022-07-01', '2023-07-01'],
    ['07-01', '2023-07-01', '2023-07-01', '2024-07-01'],
    ['07-01', '2024-06-30', '2023-07-01', '2024-07-01'],
    ['01-01', '2024-02-29', '2024-01-01', '2025-01-01'],
    ['03-01', '2024-02-29', '2023-03-01', '2024-03-01'],
    ['02-29', '2023-02-27', '2022-02-28', '2023-02-28'],
    ['02-29', '2024-02-28', '2023-02-28', '2024-02-29'],
    ['02-29', '2024-02-29', '2024-02-29', '2025-02-28'],
  ])('that starts on %s holds %s in %s to %s', (start, day, from, to) => {
    expect(reportingYear(start, day)).toEqual({ from, to });
  });

  it('holds its day, and the next year starts where it ends', () => {
    const iso = (date: Date): string => date.toISOString().slice(0, 10);
    const day = fc
      .date({ min: new Date('1990-01-01'), max: new Date('2100-01-01'), noInvalidDate: true })
      .map(iso);
    fc.assert(
      fc.property(day, day, (date, other) => {
        const start = other.slice(5);
        const { from, to } = reportingYear(start, date);
        expect(from <= date && date < to).toBe(true);
        expect(reportingYear(start, to).from).toBe(to);
      }),
    );
  });

  it.each([
    ['7-1', '2024-01-01'],
    ['13-01', '2024-01-01'],
    ['02-30', '2024-01-01'],
    ['07-01', '2023-02-29'],
    ['07-01', '2024-1-1'],
    ['07-01', '2024-01-01T00:00:00Z'],
    ['2024-07-01', '2024-01-01'],
  ])('refuses %s, %s', (start, day) => {
    expect(() => reportingYear(start, day)).toThrow(RangeError);
  });
});
