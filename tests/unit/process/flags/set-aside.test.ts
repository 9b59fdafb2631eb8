import { describe, expect, it } from 'vitest';
import { type SetAside, setAsideCautions } from '#libs/process';

const at = (text: string) => Date.parse(text);
const pulled: SetAside = {
  ...{ logger: 'L-2', position: null, readings: 12, reason: 'Pulled for\n  a turn ' },
  ...{ fromMs: at('2026-03-05T17:00:00Z'), toMs: at('2026-03-05T17:45:00Z') },
  recordedAtMs: at('2026-03-06T06:30:00Z'),
  by: 'B. T.',
};

describe('readings that were set aside', () => {
  it('are told in local time, with who says so and why, on one line', () => {
    expect(setAsideCautions([pulled], 'America/Denver')).toEqual([
      {
        ...{ kind: 'set-aside', instrument: 'L-2', fromMs: pulled.fromMs, toMs: pulled.toMs },
        text:
          '12 readings of logger L-2 from 5 Mar 2026 10:00 to 5 Mar 2026 10:45 were set aside on 5 Mar 2026 23:30 by ' +
          'B. T., and were not used: Pulled for a turn.',
      },
    ]);
  });

  it('may be one of one probe', () => {
    const [caution] = setAsideCautions([{ ...pulled, position: 'core-1', readings: 1 }], 'UTC');
    expect(caution?.text).toMatch(/^1 reading of logger L-2 at core-1 from .+ was set aside on /);
  });
});
