import { describe, expect, it } from 'vitest';
import { eachProbe, type LoggerReading, loggerVisits, readinessOf, seriesOf } from '#libs/process';
import { at, timeZone } from './batch.js';
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

  it('is told as what it was, and never as a check', () => {
    const logged = (...readings: Parameters<typeof seriesAt>[0]) =>
      loggerVisits([seriesAt(readings)], at(24 * 30));
    const cooled = advise({ checks: logged([5 * 24, 62], [19 * 24 + 1, 40], [20 * 24, 30, 20]) }, 20);
    expect(find(cooled, 'cooled').seen.slice(0, 2)).toEqual([
      'It had been at 62 °C (143.6 °F), as logger L-2 showed on 11 May 2024 08:00.',
      'Logger L-2 on 26 May 2024 08:00: hottest probe, L-2 hottest, 30 °C (86 °F).',
    ]);
    const silent = advise({ checks: logged([24, 60]) }, 10);
    expect(find(silent, 'not-checked').seen).toEqual([
      'The last reading, of logger L-2, was on 7 May 2024 08:00, 9 days ago.',
    ]);
    const cold = find(advise({ checks: logged([24, 20], [9 * 24, 30, 20]) }, 9), 'not-heating');
    expect(cold.seen[0]).toContain('9 days before the last reading, of logger L-2,');
    const uneven = find(advise({ checks: logged([9 * 24, 60, 44]) }, 9), 'uneven-heating');
    expect(uneven.seen).toEqual([
      'Logger L-2 on 15 May 2024 08:00: L-2 hottest 60 °C (140 °F), L-2 coldest 44 °C (111.2 °F), 16 °C apart.',
    ]);
    const said = [cooled, silent, [cold, uneven]].flat().flatMap(({ seen }) => seen);
    expect(said.filter((sentence) => /check/i.test(sentence))).toEqual([]);
  });

  it('is a sign of readiness as what it was, and never as a check', () => {
    const curing = { timeZone, curingSinceMs: at(0), reheatDeciC: null, samples: [], lastRawAtMs: null };
    const turns = [{ occurredAtMs: at(24), kind: 'turn' as const }];
    const checks = loggerVisits([seriesAt([[10 * 24, 23]])], at(10 * 24));
    const texts = readinessOf({ ...curing, turns, checks }, at(10 * 24)).map(({ text }) => text);
    expect(texts.slice(0, 2)).toEqual([
      'Logger L-2 on 16 May 2024 08:00: hottest probe 23 °C (73.4 °F); nobody noted the air.',
      'Turned on 7 May 2024 08:00: the hottest since is 23 °C (73.4 °F), as logger L-2 showed on 16 May 2024 08:00, below 45 °C (113 °F).',
    ]);
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
