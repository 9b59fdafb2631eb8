import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BarChart, barChart, type BarInput, diversionCharts } from '#libs/documents';
import { diversionReport } from '../../support/diversion-report.js';

const bar = (label: string, parts: number[], mark: number): BarInput => ({ label, parts, mark });

function drawn(grows: 'up' | 'right', bars: BarInput[]): BarChart {
  const chart = barChart({ grows, width: 200, height: 100, bars });
  if (chart === null) throw new Error('there are bars');
  return chart;
}

describe('a chart of columns', () => {
  it('puts the parts on each other from zero up, in the middle of their lanes', () => {
    const { bars, ticks, zero } = drawn('up', [bar('a', [50, 30, 20], 90), bar('b', [0, 0, 0], 0)]);
    expect(zero).toBe(100);
    expect(ticks).toEqual([0, 20, 40, 60, 80, 100].map((value) => ({ at: 100 - value, value })));
    expect(bars[0]?.middle).toBe(50);
    expect(bars[0]?.parts).toEqual([
      { x: 19, y: 50, width: 62, height: 50 },
      { x: 19, y: 20, width: 62, height: 30 },
      { x: 19, y: 0, width: 62, height: 20 },
    ]);
    expect(bars[0]?.mark).toEqual({ x1: 5, y1: 10, x2: 95, y2: 10 });
    expect(bars[1]?.parts.every(({ height }) => height === 0)).toBe(true);
  });

  it('has room below zero for a mark that lies there', () => {
    const { bars, ticks, zero } = drawn('up', [bar('a', [10], 8), bar('b', [2], -10)]);
    expect(ticks.map(({ value }) => value)).toEqual([-10, -5, 0, 5, 10]);
    expect(zero).toBe(50);
    expect(bars[1]?.mark.y1).toBe(100);
    expect(bars[1]?.parts[0]).toMatchObject({ y: 40, height: 10 });
  });

  it('stands upright where all is nothing', () => {
    const { ticks, zero } = drawn('up', [bar('a', [0], 0)]);
    expect(zero).toBe(100);
    expect(ticks.at(-1)?.value).toBeGreaterThan(0);
  });
});

describe('a chart of rows', () => {
  it('grows to the right, one row below the other', () => {
    const { bars, zero } = drawn('right', [bar('a', [60, 40], 100), bar('b', [10, 0], 10)]);
    expect(zero).toBe(0);
    expect(bars[0]?.parts).toEqual([
      { x: 0, y: 9.5, width: 120, height: 31 },
      { x: 120, y: 9.5, width: 80, height: 31 },
    ]);
    expect(bars[1]?.middle).toBe(75);
    expect(bars[1]?.mark).toEqual({ x1: 20, y1: 52.5, x2: 20, y2: 97.5 });
  });
});

describe('any chart', () => {
  it('is null without bars', () => {
    expect(barChart({ grows: 'up', width: 10, height: 10, bars: [] })).toBeNull();
  });

  it('keeps everything in its plot, to scale, between round values', () => {
    const mass = fc.integer({ min: 0, max: 10 ** 10 }).map((grams) => grams / 1000);
    const one = fc.record({
      label: fc.constant('x'),
      parts: fc.array(mass, { minLength: 1, maxLength: 3 }),
      mark: fc.integer({ min: -(10 ** 10), max: 10 ** 10 }).map((grams) => grams / 1000),
    });
    const charts = fc.record({
      grows: fc.constantFrom('up' as const, 'right' as const),
      bars: fc.array(one, { minLength: 1, maxLength: 50 }),
    });
    fc.assert(
      fc.property(charts, ({ grows, bars }) => {
        const chart = drawn(grows, bars);
        const length = grows === 'up' ? chart.height : chart.width;
        const values = chart.ticks.map(({ value }) => value);
        const [low = 0, high = 0] = [values[0], values.at(-1)];
        expect(values.length).toBeGreaterThanOrEqual(2);
        expect(values.length).toBeLessThanOrEqual(9);
        chart.bars.forEach(({ parts, mark }, index) => {
          const { parts: masses = [], mark: marked = 0 } = bars[index] ?? {};
          for (const { x, y, width, height } of parts) {
            expect(Math.min(x, y, width, height)).toBeGreaterThanOrEqual(0);
            expect(x + width).toBeLessThanOrEqual(200.05);
            expect(y + height).toBeLessThanOrEqual(100.05);
          }
          const extent = parts.reduce((sum, box) => sum + (grows === 'up' ? box.height : box.width), 0);
          const whole = masses.reduce((sum, part) => sum + part, 0);
          expect(extent).toBeCloseTo((whole / (high - low)) * length, 0);
          const at = grows === 'up' ? length - mark.y1 : mark.x1;
          expect(at).toBeCloseTo(((marked - low) / (high - low)) * length, 1);
        });
      }),
      { numRuns: 100 },
    );
  });
});

describe('the charts of a report', () => {
  const room = { months: { width: 400, height: 100 }, names: { width: 300, lane: 10 } };

  it('have a column for each month, in order, and a row for each name, the greatest first', () => {
    const { figures } = diversionReport();
    const { months, materials, sites } = diversionCharts(figures, room);
    expect(months?.bars.map(({ label }) => label)).toEqual(figures.byMonth.map(({ month }) => month));
    expect(materials?.chart.bars[0]?.label).toBe('Food scraps, households');
    expect(sites?.chart.height).toBe(400);
    const masses = sites?.rows.map(({ acceptedKg }) => acceptedKg) ?? [];
    expect(masses).toEqual(masses.toSorted((a, b) => b - a));
    expect(sites?.left).toBe(0);
  });

  it('keep the place of a month of nothing between two others', () => {
    const { figures } = diversionReport();
    const [some] = figures.byMonth;
    const byMonth = ['2025-11', '2026-02'].map((month) => ({ ...some!, month }));
    const bars = diversionCharts({ ...figures, byMonth }, room).months?.bars ?? [];
    expect(bars.map(({ label }) => label)).toEqual(['2025-11', '2025-12', '2026-01', '2026-02']);
    expect(bars[1]?.parts.map(({ height }) => height)).toEqual([0, 0, 0]);
    expect(bars[3]?.parts).toEqual(bars[0]?.parts.map((part) => ({ ...part, x: bars[3]?.parts[0]?.x })));
    expect(diversionCharts({ ...figures, byMonth: [] }, room).months).toBeNull();
  });

  it('tell how many names they leave to the table', () => {
    const { sites } = diversionCharts(diversionReport(53).figures, room);
    expect(sites?.rows).toHaveLength(40);
    expect(sites?.left).toBe(13);
  });
});
