import type { Check } from '#libs/documents';

const DAY_MS = 86_400_000;
const START = Date.parse('2024-05-06T08:10:00-06:00');

/** An instant so many days (and hours) after the batch was closed, as its own site would write it. */
export const dayAt = (day: number, hour = 0): string =>
  new Date(START + day * DAY_MS + hour * 3_600_000 - 6 * 3_600_000).toISOString().replace('.000Z', '-06:00');

const CORE = [31.4, 42.8, 51.2, 58.9, 61.3, 63.8, 64.1, 62.7, 61.9, 63.2, 62.4, 61.1, 62.8, 60.7, 61.6, 62.2];
const MIDDLE = [28.9, 39.5, 49.8, 57.4, 59.7, 61.2, 62.5, 60.9, 60.1, 61.4, 60.8, 59.6, 61, 59.2, 60.3, 60.5];
const EDGE = [24.1, 33.7, 46.3, 55.6, 56.8, 58.3, 58.9, 57.1, 56.4, 57.7, 57.2, 56.1, 57.3, 55.8, 56.9, 57];
const LATE = [61.2, 60.4, 59.7, 58.1, 56.3, 53.8, 50.2, 46.9, 43.5, 41.2, 38.8, 36.4];

/** Four weeks of daily checks: three days of warming, sixteen hot, then cooling. */
export function dailyChecks(): Check[] {
  const days = CORE.length + LATE.length;
  return Array.from({ length: days }, (_unused, day) => {
    const late = LATE[day - CORE.length];
    const core = CORE[day] ?? late ?? 0;
    const edge = EDGE[day] ?? Math.round(((late ?? 0) - 3.1) * 10) / 10;
    const middle = MIDDLE[day] ?? Math.round(((late ?? 0) - 1.2) * 10) / 10;
    return check(`check-${day}`, dayAt(day), [core, middle, edge], day);
  });
}

function check(
  id: string,
  occurredAt: string,
  [core = 0, middle = 0, edge = 0]: number[],
  day: number,
): Check {
  const reading = (position: string, depthCm: number, temperatureC: number): Check['readings'][number] => ({
    position,
    zone: null,
    depthCm,
    temperatureC,
    instrument: 'T-3',
    entered: { value: Math.round(temperatureC * 18 + 320) / 10, unit: 'F' },
  });
  return {
    id,
    occurredAt,
    readings: [reading('core', 61, core), reading('middle', 46, middle), reading('edge', 30, edge)],
    governingC: edge,
    counted: true,
    remark: null,
    moisture: day % 3 === 0 ? 'moist' : null,
    moisturePercent: null,
    odour: day % 3 === 0 ? 'earthy' : null,
    oxygenPercent: day % 7 === 0 ? 12.5 : null,
    ambientC: 14 + (day % 5),
    signs: day === 3 ? ['flies'] : day % 14 === 0 ? [] : null,
    texture: day === 27 ? 'crumbly' : null,
    inputsVisible: day === 27 ? false : null,
    note: day === 9 ? 'Steam on opening; stood upwind.' : null,
    warnings: [],
    by: day % 2 === 0 ? 'T. A.' : 'R. O.',
  };
}
