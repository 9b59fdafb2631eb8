import { type BatchFacts, evaluateProcess, processRule } from '#libs/process';
import { type Figure, milliseconds, sideBySide } from './measure.js';

const dayMs = 86_400_000;
const beganMs = Date.parse('2024-05-06T08:00-06:00');
/** Enough to warm up, and that a millisecond can be told from a half. */
const TIMES = 300;

/** One check a day of three probes, hot for the first month and cooling after. */
function dailyChecks(days: number): BatchFacts {
  return {
    timeZone: 'America/Denver',
    rawAdditions: [{ occurredAtMs: beganMs, what: 'food scraps and leaves' }],
    checks: Array.from({ length: days }, (_, day) => ({
      id: `check-${day}`,
      occurredAtMs: beganMs + (day + 1) * dayMs,
      readings: [0, 15, 30].map((moreDeciC, probe) => ({
        position: `core-${probe}`,
        depthMm: 450,
        temperatureDeciC: (day < 30 ? 560 : 300) + moreDeciC,
      })),
    })),
    turns: [3, 6, 9, 12, 15].map((day) => ({ occurredAtMs: beganMs + day * dayMs, kind: 'turn' as const })),
  };
}

/** The pure verdict over one, two and four years of daily checks, against a copy of the same facts through JSON. */
export async function verdictFigures(): Promise<Figure[]> {
  const rule = processRule('us-503-pfrp-windrow');
  if (rule === undefined) throw new Error('the library has no windrow rule');
  const figures: Figure[] = [];
  for (const years of [1, 2, 4]) {
    const facts = dailyChecks(years * 365);
    const nowMs = beganMs + (years * 365 + 1) * dayMs;
    const often = (work: () => unknown) =>
      milliseconds(() => {
        for (let time = 0; time < TIMES; time += 1) work();
        return Promise.resolve();
      });
    const [judged, copied] = await sideBySide(
      5,
      () => often(() => evaluateProcess(rule, facts, nowMs)),
      () => often(() => JSON.parse(JSON.stringify(facts)) as unknown),
    );
    figures.push({
      what: `verdict, ${years * 365} daily checks`,
      value: judged / TIMES,
      unit: 'ms',
      baseline: 'the facts through JSON',
      ratio: judged / copied,
    });
  }
  return figures;
}
