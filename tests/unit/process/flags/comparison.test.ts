import { describe, expect, it } from 'vitest';
import {
  type Check,
  disagreementCautions,
  implausibleCautions,
  mayBeFire,
  type ProbeHour,
} from '#libs/process';
import { hour, HOUR_MS, logger, startMs, timeZone } from './pile.js';

const MINUTE_MS = 60_000;
const at = (minutes: number) => startMs + minutes * MINUTE_MS;

function check(minutes: number, places: Record<string, number>): Check {
  const readings = Object.entries(places).map(([position, temperatureDeciC]) => ({
    ...{ position, temperatureDeciC },
    depthMm: null,
  }));
  return { id: `check-${minutes}`, occurredAtMs: at(minutes), readings };
}

const read = (minutes: number, position: string, temperatureDeciC: number) => ({
  ...{ atMs: at(minutes), position, temperatureDeciC },
});
const against = (checks: Check[], ...readings: ReturnType<typeof read>[]) =>
  disagreementCautions([{ logger: 'L-2', readings }], checks, timeZone);

describe('a logger beside checks by hand', () => {
  it('is doubted when its range lies more than 5 °C from the range of the check', () => {
    const checks = [check(60, { 'core-1': 560, 'core-2': 600 })];
    expect(against(checks, read(60, 'probe-1', 650), read(60, 'probe-2', 700))).toEqual([]);
    expect(against(checks, read(60, 'probe-1', 510), read(60, 'probe-2', 480))).toEqual([]);
    expect(against(checks, read(60, 'probe-1', 651), read(60, 'probe-2', 700))).toEqual([
      {
        kind: 'disagreement',
        fromMs: at(60),
        toMs: at(60),
        instrument: 'L-2',
        text:
          'L-2, on 4 Mar 2024 01:00: 1 check by hand within 30 minutes, more than 5 °C away (our own choice); the ' +
          'logger showed up to 5.1 °C more than the hand found. Find out which of the two is off.',
      },
    ]);
    expect(against(checks, read(60, 'probe-1', 509))[0]?.text).toContain('5.1 °C less');
  });

  it('is held against the same position where both name it, whatever the rest of the pile shows', () => {
    const checks = [check(60, { 'core-1': 560, 'edge-1': 400 })];
    expect(against(checks, read(60, 'core-1', 500), read(60, 'edge-1', 440))[0]?.text).toContain('6 °C less');
    expect(against(checks, read(60, 'core-1', 510), read(60, 'edge-1', 450))).toEqual([]);
  });

  it('is compared up to half an hour away, and no further', () => {
    const checks = [check(60, { 'core-1': 560 })];
    expect(against(checks, read(30, 'core-1', 700))).toHaveLength(1);
    expect(against(checks, read(90, 'core-1', 700))).toHaveLength(1);
    expect(against(checks, read(29, 'core-1', 700), read(91, 'core-1', 700))).toEqual([]);
  });

  it('is told once for checks running, passing over those with nothing to compare', () => {
    const checks = [0, 1440, 2880, 4320, 5760].map((minutes) => check(minutes, { 'core-1': 560 }));
    const readings = [
      ...[read(0, 'core-1', 630), read(1440, 'core-1', 660), read(4320, 'core-1', 570)],
      read(5760, 'core-1', 640),
    ];
    const cautions = against(checks.toReversed(), ...readings.toReversed());
    expect(cautions.map(({ fromMs, toMs }) => [fromMs, toMs])).toEqual([
      [at(0), at(1440)],
      [at(5760), at(5760)],
    ]);
    expect(cautions[0]?.text).toContain('2 checks by hand within 30 minutes, all more than 5 °C away');
    expect(cautions[0]?.text).toContain('up to 10 °C more');
  });
});

describe('readings that no working probe gives', () => {
  const cautionsOf = (...hours: ProbeHour[]) => implausibleCautions([logger(...hours)], [], timeZone);

  it('are those above 100 °C and those of exactly -40 °C', () => {
    expect(cautionsOf(hour('a', 0, 600, 1000), hour('a', 1, -399, 600), hour('a', 2, -401))).toEqual([]);
    const [hot, ...noMore] = cautionsOf(hour('a', 0, 600, 1001));
    expect(noMore).toEqual([]);
    expect(hot).toMatchObject({ kind: 'implausible', fromMs: startMs, toMs: startMs + HOUR_MS });
    expect(hot?.text).toContain(
      'L-2, probe a, from 4 Mar 2024 00:00 to 4 Mar 2024 01:00: 100.1 °C (212.1 °F).',
    );
    expect(hot?.text).toContain('do not open it, keep people away');
    expect([hot, cautionsOf(hour('a', 0, -400, 600))[0]].map((each) => each && mayBeFire(each))).toEqual([
      true,
      false,
    ]);
    expect(cautionsOf(hour('a', 0, -400, 600))[0]?.text).toContain(
      '-40 °C (-40 °F). An open or shorted sensor',
    );
  });

  it('are told once where they come again within a day, by their hottest', () => {
    const cautions = cautionsOf(hour('a', 0, 600, 1001), hour('a', 24, 600, 1090), hour('a', 49, 600, 1002));
    expect(cautions).toHaveLength(2);
    expect(cautions[0]?.text).toContain('109 °C');
  });

  it('are found in checks by hand too', () => {
    const checks = [check(0, { 'core-1': 1000, 'core-2': -400 }), check(10, { 'core-1': 1100 })];
    const cautions = implausibleCautions([], checks, timeZone);
    expect(cautions.map(({ text }) => text.split(':')[0])).toEqual([
      'Check by hand, core-2, on 4 Mar 2024 00',
      'Check by hand, core-1, on 4 Mar 2024 00',
    ]);
  });
});
