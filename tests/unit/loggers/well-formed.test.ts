import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readAs } from '../../../apps/api/http/dto/validation.js';
import { NewLoggerReadingsDto } from '../../../apps/api/loggers/logger-readings.dto.js';
import { readingsIn } from '../../../apps/api/loggers/well-formed.js';

const good = {
  ...{ bay: 'A1', position: 'core-1', zone: 'core', depth: { value: 50, unit: 'cm' } },
  ...{ temperature: { value: 60, unit: 'C' }, occurredAt: '2026-05-02T09:30:00Z' },
};

const odd = fc.oneof(
  fc.constantFrom<unknown>(undefined, null, '', ' ', 'A1', 'a\u0000', '\ud800', 1, -1e7, NaN, [], {}, true),
  fc.constantFrom<unknown>('2026-05-02T09:30:00', 'noon', { value: 1 }, { value: 1, unit: 'K' }, [good]),
  fc.constantFrom<unknown>(
    { value: -1, unit: 'cm' },
    { value: 1e6, unit: 'F' },
    { value: 1, unit: 'C', more: 1 },
  ),
  fc.constantFrom<unknown>('01890a5d-ac96-774b-bcce-b302099a8057', '00000000-0000-0000-0000-000000000000'),
  fc.string({ maxLength: 50, unit: 'binary' }),
);
const fields = [...Object.keys(good), 'batchId', 'more'];

/** What the class says of it: the value it takes, or that it takes none. */
function taken(read: (body: unknown) => object, body: unknown): unknown {
  try {
    return JSON.parse(JSON.stringify(read(body)));
  } catch {
    return 'refused';
  }
}

describe('what is seen at a glance to be well formed', () => {
  it('is what the class takes, field by field', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom(...fields), odd, { maxKeys: 3 }), (changes) => {
        const body = { readings: [good, { ...good, ...changes }] };
        expect(taken(readingsIn, body)).toEqual(taken((sent) => readAs(NewLoggerReadingsDto, sent), body));
      }),
      { seed: 20260503, numRuns: 2_000 },
    );
  });

  it('is a delivery of its own shape only', () => {
    for (const body of [
      null,
      [],
      'x',
      {},
      { readings: [] },
      { readings: good },
      { readings: [good], more: 1 },
    ]) {
      expect(taken(readingsIn, body), JSON.stringify(body)).toBe('refused');
    }
    expect(readingsIn({ readings: [good] }).readings).toEqual([good]);
  });
});
