import { describe, expect, it } from 'vitest';
import { penOf, temperatureChart, temperaturesOf, type TemperatureChartInput } from '#libs/documents';
import { signedRecord } from './example.js';

const NOON = '2024-03-08T12:00:00-07:00';
const at = (hours: number): string => new Date(Date.parse(NOON) + hours * 3_600_000).toISOString();

/** 100 hours wide and 50 degrees (20 to 70 °C) high: one unit an hour, one unit a degree. */
function input(overrides: Partial<TemperatureChartInput> = {}): TemperatureChartInput {
  return {
    width: 100,
    height: 50,
    timeZone: 'America/Denver',
    checks: [0, 50, 100].map((hours) => ({
      occurredAt: at(hours),
      readings: [{ position: 'core', temperatureC: 30 + hours / 5 }],
    })),
    thresholdC: null,
    breakAfterHours: null,
    turns: [],
    creditedSpans: [],
    marks: [],
    ...overrides,
  };
}

const chartOf = (
  overrides: Partial<TemperatureChartInput>,
): NonNullable<ReturnType<typeof temperatureChart>> => {
  const chart = temperatureChart(input(overrides));
  if (chart === null) throw new Error('no chart');
  return chart;
};

const readings = (
  temperatures: number[],
  stepHours: number,
  position = 'core',
): TemperatureChartInput['checks'] =>
  temperatures.map((temperatureC, index) => ({
    occurredAt: at(index * stepHours),
    readings: [{ position, temperatureC }],
  }));

describe('temperatureChart', () => {
  it('has nothing to draw where nothing was read', () => {
    expect(temperatureChart(input({ checks: [] }))).toBeNull();
    expect(temperatureChart(input({ checks: [{ occurredAt: NOON, readings: [] }] }))).toBeNull();
  });

  it('puts time to the right and heat upward, as SVG path data', () => {
    const { lines } = chartOf({});
    expect(lines).toHaveLength(1);
    expect(lines[0]?.path).toBe('M0 40L50 30L100 20');
    expect(lines[0]?.points).toEqual([
      { x: 0, y: 40 },
      { x: 50, y: 30 },
      { x: 100, y: 20 },
    ]);
  });

  it('draws one line a position, in order of time whatever the order of checks', () => {
    const checks = [2, 0, 1].map((hours) => ({
      occurredAt: at(hours * 50),
      readings: [
        { position: 'core', temperatureC: 60 },
        { position: 'edge', temperatureC: 40 + hours },
      ],
    }));
    const { lines } = chartOf({ checks });
    expect(lines.map(({ position, path }) => [position, path])).toEqual([
      ['core', 'M0 10L50 10L100 10'],
      ['edge', 'M0 30L50 29L100 28'],
    ]);
  });

  it('does not join readings further apart than the longest gap, and still marks a lone one', () => {
    const checks = [0, 10, 60, 100].map((hours) => ({
      occurredAt: at(hours),
      readings: [{ position: 'core', temperatureC: 50 }],
    }));
    const { lines } = chartOf({ checks, breakAfterHours: 36 });
    expect(lines[0]?.path).toBe('M0 20L10 20');
    expect(lines[0]?.points).toHaveLength(4);
    expect(chartOf({ checks }).lines[0]?.path).toBe('M0 20L10 20L60 20L100 20');
  });

  it('keeps every peak and dip when it thins a dense line', () => {
    const temperatures = Array.from({ length: 4000 }, (_unused, index) => 50 + (index % 7));
    temperatures[1234] = 68.5;
    temperatures[2345] = 21.5;
    const { lines } = chartOf({ checks: readings(temperatures, 0.25) });
    const drawn = [...(lines[0]?.path ?? '').matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map((hit) => ({
      x: Number(hit[1]),
      y: Number(hit[2]),
    }));
    expect(drawn.length).toBeLessThanOrEqual(101 * 4);
    expect(Math.min(...drawn.map(({ y }) => y))).toBe(1.5);
    expect(Math.max(...drawn.map(({ y }) => y))).toBe(48.5);
    expect(drawn.map(({ x }) => x)).toEqual(drawn.map(({ x }) => x).toSorted((a, b) => a - b));
    expect(lines[0]?.points).toEqual([]);
  });

  it('shows 20 to 70 °C at least, and widens by tens', () => {
    const scale = (temperatures: number[], thresholdC: number | null = null): number[] =>
      chartOf({ checks: readings(temperatures, 50), thresholdC }).temperatureTicks.map(
        ({ temperatureC }) => temperatureC,
      );
    expect(scale([31, 40])).toEqual([20, 30, 40, 50, 60, 70]);
    expect(scale([-4, 71.2])).toEqual([-10, 0, 10, 20, 30, 40, 50, 60, 70, 80]);
    expect(scale([31, 40], 74).at(-1)).toBe(80);
  });

  it('pairs the scale with whole degrees Fahrenheit', () => {
    expect(chartOf({}).temperatureTicks.map(({ temperatureF }) => temperatureF)).toEqual([
      68, 86, 104, 122, 140, 158,
    ]);
  });

  it('stretches to hold turns, credited time and marks, and numbers the turns in order of time', () => {
    const chart = chartOf({
      thresholdC: 55,
      turns: [at(75), at(25)],
      creditedSpans: [{ from: at(20), to: at(80) }],
      marks: [{ at: at(200), label: 'criteria met' }],
    });
    expect(chart.turns).toEqual([
      { x: 12.5, number: 1 },
      { x: 37.5, number: 2 },
    ]);
    expect(chart.creditedSpans).toEqual([{ x: 10, width: 30 }]);
    expect(chart.marks).toEqual([{ x: 100, label: 'criteria met' }]);
    expect(chart.threshold).toMatchObject({ y: 15, temperatureC: 55 });
  });

  it('gives a single reading a day to stand in', () => {
    const chart = chartOf({ checks: readings([48], 1) });
    expect(chart.lines[0]?.points).toEqual([{ x: 50, y: 22 }]);
    expect(chart.lines[0]?.path).toBe('');
  });

  it('sets ticks at local midnights, through the night on which summer time begins (10 March 2024, Denver)', () => {
    const { timeTicks } = chartOf({ width: 230 });
    expect(timeTicks.map(({ label }) => label)).toEqual(['9 Mar', '10 Mar', '11 Mar', '12 Mar']);
    const hoursBetween = timeTicks.slice(1).map(({ x }, index) => (x - (timeTicks[index]?.x ?? 0)) / 2.3);
    expect(hoursBetween.map(Math.round)).toEqual([24, 23, 24]);
  });

  it('sets fewer ticks on a narrow or a long chart, and hours on one of a day', () => {
    const days = (count: number): string[] =>
      chartOf({ width: 184, checks: readings([50, 50], 24 * count) }).timeTicks.map(({ label }) => label);
    expect(days(60).length).toBeLessThanOrEqual(4);
    expect(days(700).length).toBeLessThanOrEqual(4);
    expect(days(1)).toEqual(['12:00', '18:00', '9 Mar', '06:00', '12:00']);
  });

  it('keeps the names at line ends apart, in their order, inside the plot', () => {
    const checks = [0, 100].map((hours) => ({
      occurredAt: at(hours),
      readings: ['a', 'b', 'c'].map((position) => ({ position, temperatureC: 21 })),
    }));
    const { lines, threshold } = chartOf({ checks, thresholdC: 22 });
    const labels = [threshold?.labelY ?? 0, ...lines.map(({ labelY }) => labelY)];
    expect(labels).toEqual([20, 30, 40, 50]);
  });
});

describe('penOf', () => {
  it('draws no two of 36 lines alike', () => {
    const pens = Array.from({ length: 36 }, (_unused, index) => JSON.stringify(penOf(index)));
    expect(new Set(pens).size).toBe(36);
  });
});

describe('temperaturesOf', () => {
  const plot = { width: 100, height: 50 };

  it('does not join readings that lie two days apart where no rule names a longest gap', () => {
    const record = { ...signedRecord(), verdict: null };
    const [first, , , fourth] = record.checks;
    const temperatures = temperaturesOf({ ...record, checks: [first!, fourth!], loggers: [] }, plot);
    expect(temperatures?.breakAfterHours).toBe(48);
    expect(temperatures?.chart.lines.map(({ path, points }) => [path, points.length])).toEqual([
      ['', 2],
      ['', 2],
      ['', 2],
    ]);
  });

  it('takes gap, threshold and instants from the rule, and counts a move as a turn', () => {
    const temperatures = temperaturesOf(signedRecord(), plot);
    expect(temperatures?.breakAfterHours).toBe(36);
    expect(temperatures?.chart.threshold?.temperatureC).toBe(55);
    expect(temperatures?.chart.turns).toHaveLength(5);
    expect(temperatures?.chart.marks.map(({ label }) => label)).toEqual(['clock starts', 'criteria met']);
  });

  it('is nothing where nothing was read', () => {
    expect(temperaturesOf({ ...signedRecord(), checks: [], loggers: [] }, plot)).toBeNull();
  });
});
