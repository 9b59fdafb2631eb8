/**
 * RFC 8785, JSON Canonicalization Scheme (June 2020): the worked example of §3.2.2 with its UTF-8 bytes of
 * §3.2.4, the sorting example of §3.2.3, the errors of §3.2.2.2 and §3.2.2.3, and the number table of Appendix B.
 */
import { describe, expect, it } from 'vitest';
import { canonicalJson, sealOf } from '#libs/documents';

const WORKED_EXAMPLE = String.raw`{
  "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}`;

const SORTING_EXAMPLE = String.raw`{
  "\u20ac": "Euro Sign",
  "\r": "Carriage Return",
  "\ufb33": "Hebrew Letter Dalet With Dagesh",
  "1": "One",
  "\ud83d\ude00": "Emoji: Grinning Face",
  "\u0080": "Control",
  "\u00f6": "Latin Small Letter O With Diaeresis"
}`;

const NUMBERS: [bits: string, text: string][] = [
  ['0000000000000000', '0'],
  ['8000000000000000', '0'],
  ['0000000000000001', '5e-324'],
  ['8000000000000001', '-5e-324'],
  ['7fefffffffffffff', '1.7976931348623157e+308'],
  ['ffefffffffffffff', '-1.7976931348623157e+308'],
  ['4340000000000000', '9007199254740992'],
  ['c340000000000000', '-9007199254740992'],
  ['4430000000000000', '295147905179352830000'],
  ['44b52d02c7e14af5', '9.999999999999997e+22'],
  ['44b52d02c7e14af6', '1e+23'],
  ['44b52d02c7e14af7', '1.0000000000000001e+23'],
  ['444b1ae4d6e2ef4e', '999999999999999700000'],
  ['444b1ae4d6e2ef4f', '999999999999999900000'],
  ['444b1ae4d6e2ef50', '1e+21'],
  ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
  ['3eb0c6f7a0b5ed8d', '0.000001'],
  ['41b3de4355555553', '333333333.3333332'],
  ['41b3de4355555554', '333333333.33333325'],
  ['41b3de4355555555', '333333333.3333333'],
  ['41b3de4355555556', '333333333.3333334'],
  ['41b3de4355555557', '333333333.33333343'],
  ['becbf647612f3696', '-0.0000033333333333333333'],
  ['43143ff3c1cb0959', '1424953923781206.2'],
];

function doubleOf(bits: string): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setBigUint64(0, BigInt(`0x${bits}`));
  return view.getFloat64(0);
}

describe('canonicalJson against RFC 8785', () => {
  it('§3.2.2 and §3.2.4: the worked example, to the byte', () => {
    const text = canonicalJson(JSON.parse(WORKED_EXAMPLE));
    expect(text).toBe(
      String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
    expect(Buffer.from(text, 'utf8').toString('hex')).toBe(
      '7b226c69746572616c73223a5b6e756c6c2c747275652c66616c73655d2c226e756d62657273223a' +
        '5b3333333333333333332e333333333333332c31652b33302c342e352c302e3030322c31652d3237' +
        '5d2c22737472696e67223a22e282ac245c75303030665c6e4127425c225c5c5c5c5c222f227d',
    );
  });

  it('§3.2.3: members sorted by UTF-16 code unit', () => {
    const values = Object.values(JSON.parse(canonicalJson(JSON.parse(SORTING_EXAMPLE))) as object);
    // JSON.parse puts the integer-like key first, whatever the text says; so look at the text for the order.
    expect(values).toHaveLength(7);
    expect(
      [...canonicalJson(JSON.parse(SORTING_EXAMPLE)).matchAll(/:"([^"]+)"/g)].map((hit) => hit[1]),
    ).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  it.each(NUMBERS)('Appendix B: %s is %s', (bits, text) => {
    expect(canonicalJson(doubleOf(bits))).toBe(text);
  });

  it.each([
    ['Appendix B: NaN', doubleOf('7fffffffffffffff')],
    ['Appendix B: infinity', doubleOf('7ff0000000000000')],
    ['§3.2.2.2: a lone surrogate', { note: 'a\ud800b' }],
    ['§3.2.2.2: a lone surrogate after a backslash', { note: '\\\udead' }],
    ['not JSON: undefined', undefined],
    ['not JSON: a bigint', { mass: 1n }],
  ])('%s is refused', (_name, value) => {
    expect(() => canonicalJson(value)).toThrow(TypeError);
  });

  it('text that only looks like an escaped surrogate is no error', () => {
    expect(canonicalJson('\\ud800')).toBe(String.raw`"\\ud800"`);
    expect(canonicalJson('😀')).toBe('"😀"');
  });
});

describe('sealOf', () => {
  it('is SHA-256 of the canonical bytes (FIPS 180-4, SHA-256 of the two bytes "{}", as sha256sum prints it)', () => {
    expect(sealOf({})).toBe('44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a');
  });

  it('does not depend on the order of members, and does depend on every digit', () => {
    expect(sealOf({ a: 1, b: [2, 3] })).toBe(sealOf({ b: [2, 3], a: 1 }));
    expect(sealOf({ a: 1, b: [2, 3] })).not.toBe(sealOf({ a: 1, b: [3, 2] }));
  });
});
