import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { bodyDigest } from '../../../apps/api/http/writes/replay.js';

const hexOf = (body: object) => bodyDigest(body).toString('hex');

describe('the digest of a body', () => {
  it('is the SHA-256 of its canonical JSON, as it is kept with the records', () => {
    const canonical = '{"a":[1.5,{"x":"é","y":null}],"b":"2"}';
    const expected = createHash('sha256').update(canonical).digest('hex');
    expect(hexOf(JSON.parse(canonical) as object)).toBe(expected);
    expect(hexOf({ b: '2', a: [1.5, { y: null, x: 'é' }] })).toBe(expected);
  });

  it('is the same for a class instance and for a field that is there but undefined', () => {
    class Body {
      constructor(
        readonly unit: string,
        readonly value: number,
        readonly note?: string,
      ) {}
    }
    expect(hexOf({ weight: new Body('lb', -0) })).toBe(hexOf({ weight: { value: 0, unit: 'lb' } }));
  });

  it('differs where anything differs', () => {
    const bodies = [{ a: 1 }, { a: '1' }, { a: [1] }, { a: null }, {}, { a: 1, b: 1 }, { a: { b: 1 } }];
    expect(new Set(bodies.map(hexOf)).size).toBe(bodies.length);
  });
});
