import { hourMs } from '#libs/quantities';
import { temperatureTicks, timeTicks, type TemperatureTick, type TimeTick } from './axes.js';
import { linesOf, spreadLabels, type Line, type Sample } from './lines.js';

/** Plain data of one batch. Times are RFC 3339; `width` and `height` are of the plot area, in any one unit. */
export interface TemperatureChartInput {
  width: number;
  height: number;
  timeZone: string;
  checks: readonly {
    occurredAt: string;
    readings: readonly { position: string; temperatureC: number }[];
  }[];
  thresholdC: number | null;
  /** Readings further apart than this are not joined: what was not read is not shown. Null joins all. */
  breakAfterHours: number | null;
  turns: readonly string[];
  creditedSpans: readonly { from: string; to: string }[];
  /** Single instants to name, such as the start of the clock. */
  marks: readonly { at: string; label: string }[];
}

/** Positions grow rightward and downward from the top left corner of the plot area. */
export interface TemperatureChart {
  width: number;
  height: number;
  timeTicks: TimeTick[];
  temperatureTicks: TemperatureTick[];
  threshold: { y: number; temperatureC: number; labelY: number } | null;
  /** One a probe position, in order of first appearance. Every `labelY` is kept apart from the others. */
  lines: (Line & { labelY: number })[];
  turns: { x: number; number: number }[];
  creditedSpans: { x: number; width: number }[];
  marks: { x: number; label: string }[];
}

const LABEL_HEIGHT = 10;

/** Where everything of a temperature chart goes: SVG path data and positions. Null when nothing was read. */
export function temperatureChart(input: TemperatureChartInput): TemperatureChart | null {
  const samples = samplesByPosition(input.checks);
  if (samples.size === 0) return null;
  const { width, height } = input;
  const readings = [...samples.values()].flat();
  const turns = input.turns.map(Date.parse);
  const marks = input.marks.map((mark) => ({ at: Date.parse(mark.at), label: mark.label }));
  const spans = input.creditedSpans.map((span) => ({ from: Date.parse(span.from), to: Date.parse(span.to) }));

  const [from, to] = timeDomain([
    ...readings.map(({ at }) => at),
    ...turns,
    ...marks.map(({ at }) => at),
    ...spans.flatMap((span) => [span.from, span.to]),
  ]);
  const temperatures = readings.map(({ temperatureC }) => temperatureC);
  if (input.thresholdC !== null) temperatures.push(input.thresholdC);
  const [low, high] = temperatureDomain(temperatures);

  const xOf = (at: number): number => round(((at - from) / (to - from)) * width);
  const yOf = (temperatureC: number): number => round((1 - (temperatureC - low) / (high - low)) * height);
  const breakAfterMs = input.breakAfterHours === null ? Infinity : input.breakAfterHours * hourMs;
  const lines = linesOf(samples, { xOf, yOf, breakAfterMs });
  const { thresholdC } = input;
  const labelled = lines.map(({ end }) => end.y);
  if (thresholdC !== null) labelled.push(yOf(thresholdC));
  const labels = spreadLabels(labelled, Math.min(LABEL_HEIGHT, height / labelled.length), height);

  return {
    width,
    height,
    timeTicks: timeTicks({ from, to, width, timeZone: input.timeZone, xOf }),
    temperatureTicks: temperatureTicks({ low, high, yOf }),
    threshold:
      thresholdC === null
        ? null
        : { y: yOf(thresholdC), temperatureC: thresholdC, labelY: labels.at(-1) ?? yOf(thresholdC) },
    lines: lines.map((line, index) => ({ ...line, labelY: labels[index] ?? line.end.y })),
    turns: turns.sort((a, b) => a - b).map((at, index) => ({ x: xOf(at), number: index + 1 })),
    creditedSpans: spans.map((span) => ({ x: xOf(span.from), width: round(xOf(span.to) - xOf(span.from)) })),
    marks: marks.map(({ at, label }) => ({ x: xOf(at), label })),
  };
}

function samplesByPosition(checks: TemperatureChartInput['checks']): Map<string, Sample[]> {
  const samples = new Map<string, Sample[]>();
  for (const check of checks) {
    const at = Date.parse(check.occurredAt);
    for (const { position, temperatureC } of check.readings) {
      const line = samples.get(position);
      if (line) line.push({ at, temperatureC });
      else samples.set(position, [{ at, temperatureC }]);
    }
  }
  for (const line of samples.values()) line.sort((a, b) => a.at - b.at);
  return samples;
}

/** A single instant still gets a day to stand in. Loops, not spread: thousands of arguments overflow the stack. */
function timeDomain(instants: readonly number[]): [number, number] {
  const [from, to] = extent(instants);
  return from === to ? [from - 12 * hourMs, to + 12 * hourMs] : [from, to];
}

/** At least 20 to 70 °C, so that a pile that never heated looks like one; else widened by tens. */
function temperatureDomain(temperatures: readonly number[]): [number, number] {
  const [coldest, hottest] = extent(temperatures);
  return [Math.min(20, Math.floor(coldest / 10) * 10), Math.max(70, Math.ceil(hottest / 10) * 10)];
}

function extent(values: readonly number[]): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return [low, high];
}

const round = (value: number): number => Math.round(value * 100) / 100;
