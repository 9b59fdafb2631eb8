import { describe, expect, it } from 'vitest';
import { eachProbe, type LoggerReading, loggerVisits, seriesOf } from '#libs/process';
import { at } from './batch.js';
import { advise, find, keysOf, visit } from './advice-batch.js';

const seriesAt = (readings: readonly [hours: number, ...celsius: number[]][]) =>
  seriesOf(
    'L-2',
    readings.flatMap(([hours, ...celsius]) =>
      celsius.map((value, index): LoggerReading => ({
        atMs: at(hours),
        ...{ position: `probe-${index + 1}`, depthMm: 450, temperatureDeciC: value * 10 },
      })),
    ),
    eachProbe,
  );

const shown = (visits: ReturnType<typeof loggerVisits>) =>
  visits
    .map(({ occurredAtMs, readings }) => [
      (occurredAtMs - at(0)) / 3_600_000,
      ...readings.map(({ temperatureDeciC }) => temperatureDeciC / 10),
    ])
    .toSorted((a, b) => (a[0] ?? 0) - (b[0] ?? 0));

describe('what loggers show', () => {
  it('is told by the latest instant and the hottest of every 24 hours back from it', () => {
    const series = seriesAt([
      [1, 30],
      [10, 40, 35],
      [20, 38],
      [30, 50],
      [40, 61, 44],
      [44, 60, 43],
    ]);
    expect(shown(loggerVisits([series], at(50)))).toEqual([
      [10, 40, 35],
      [40, 61, 44],
      [44, 60, 43],
    ]);
  });

  it('is not told after now, and nothing of a logger that said nothing', () => {
    const series = seriesAt([
      [1, 30],
      [60, 80],
    ]);
    expect(shown(loggerVisits([series], at(50)))).toEqual([[1, 30]]);
    expect(loggerVisits([seriesAt([])], at(50))).toEqual([]);
  });

  it('hides no fire behind another logger', () => {
    const [hot] = loggerVisits([seriesAt([[120, 86]])], at(121));
    const [cold] = loggerVisits([{ ...seriesAt([[120 + 1 / 60, 40]]), logger: 'L-3' }], at(121));
    expect(keysOf(advise({ checks: [hot, cold].filter((each) => each !== undefined) }))).toEqual([
      'fire-danger',
    ]);
    const cooled = seriesAt([
      [120, 86, 60],
      [130, 60, 50],
    ]);
    expect(keysOf(advise({ checks: loggerVisits([cooled], at(131)) }))).not.toContain('fire-danger');
  });

  it('is advised on as checks are', () => {
    const [latest] = loggerVisits([seriesAt([[120, 82, 60]])], at(121));
    const advice = advise({ checks: [visit(3, [60]), ...(latest ? [latest] : [])] });
    expect(find(advice, 'fire-danger').seen[0]).toContain('L-2 hottest, 82 °C');
    const [good] = loggerVisits([seriesAt([[239, 60]])], at(240));
    expect(keysOf(advise({ checks: good ? [good] : [] }, 10))).toEqual([]);
    expect(keysOf(advise({ checks: [visit(3, [60])] }, 10))).toEqual(['not-checked']);
  });
});
