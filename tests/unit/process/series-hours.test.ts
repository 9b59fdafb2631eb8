import { hoursOf, seriesOf } from '#libs/process';
import { describe, expect, it } from 'vitest';
import { ruleWith } from './batch.js';

const startMs = Date.parse('2024-05-06T08:00Z');
const minute = (index: number) => startMs + index * 60_000;
const probe = (position: string, atMs: number, temperatureDeciC: number) => ({
  ...{ position, depthMm: null, atMs },
  temperatureDeciC,
});

describe('the hours of a logger', () => {
  it('tell the coldest and the hottest of all its probes, and leave out hours without a reading', () => {
    const readings = [
      probe('core', minute(0), 600),
      probe('edge', minute(0), 550),
      probe('core', minute(59), 640),
      probe('core', minute(60), 580),
      probe('core', minute(200), 500),
    ];
    expect(hoursOf(seriesOf('L-1', readings, ruleWith()))).toEqual([
      { startMs, instants: 2, lowestDeciC: 550, highestDeciC: 640 },
      { startMs: minute(60), instants: 1, lowestDeciC: 580, highestDeciC: 580 },
      { startMs: minute(180), instants: 1, lowestDeciC: 500, highestDeciC: 500 },
    ]);
  });

  it('say nothing where no probe counts', () => {
    const readings = [probe('core', minute(5), 1200)];
    const [hour] = hoursOf(seriesOf('L-1', readings, ruleWith()));
    expect(hour).toEqual({ startMs, instants: 1, lowestDeciC: null, highestDeciC: null });
    expect(hoursOf(seriesOf('L-1', [], ruleWith()))).toEqual([]);
  });

  it('make a year of minutes into its hours', () => {
    const readings = Array.from({ length: 366 * 1440 }, (_, index) => probe('core', minute(index), 600));
    expect(hoursOf(seriesOf('L-1', readings, ruleWith()))).toHaveLength(366 * 24);
  });
});
