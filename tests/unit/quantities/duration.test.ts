import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { dayMs, hourMs, minuteMs } from '#libs/quantities';

describe('elapsed time', () => {
  it('is counted in milliseconds', () => {
    const ms = (text: string) => Temporal.Duration.from(text).total('milliseconds');
    expect([minuteMs, hourMs, dayMs]).toEqual([ms('PT1M'), ms('PT1H'), ms('PT24H')]);
  });
});
