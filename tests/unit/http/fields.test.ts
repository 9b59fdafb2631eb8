import { describe, expect, it } from 'vitest';
import { ListOf, Nested, Pattern, Text, TextList, WholeList } from '../../../apps/api/http/dto/fields.js';
import { readAs } from '../../../apps/api/http/dto/validation.js';
import { Problem } from '../../../apps/api/http/problems/catalogue.js';

class Inner {
  @Text(10) name!: string;
}

class Fields {
  @Text(10, { oneLine: true }) line!: string;
  @Text(10, { optional: true }) note?: string;
  @Text(10, { nullable: true }) remark!: string | null;
  @Pattern(/^[a-z]+$/, 'small letters') code!: string;
  @TextList(/^[a-z]+$/, 2) codes!: string[];
  @WholeList(0, 9, 2) digits!: number[];
  @ListOf(() => Inner, 2, { min: 1 }) inners!: Inner[];
  @Nested(() => Inner) inner!: Inner;
}

const good = {
  ...{ line: 'a', remark: null, code: 'a', codes: [], digits: [] },
  ...{ inners: [{ name: 'a' }], inner: { name: 'a' } },
};

/** What is told of a body that is good but for what is given here. */
function toldOf(change: Record<string, unknown>): Record<string, string> {
  try {
    readAs(Fields, { ...good, ...change });
    return {};
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    return Object.fromEntries((error.errors ?? []).map(({ pointer, detail }) => [pointer, detail]));
  }
}

describe('what is told of a field', () => {
  it('reads what is good', () => {
    expect(toldOf({})).toEqual({});
  });

  it('says of every field that is needed and not there that it is missing', () => {
    const gone = Object.fromEntries(Object.keys(good).map((key) => [key, undefined]));
    const told = Object.fromEntries(Object.keys(good).map((key) => [`/${key}`, 'is missing']));
    expect(toldOf(gone)).toEqual(told);
    expect(toldOf({ inners: [{}] })).toEqual({ '/inners/0/name': 'is missing' });
  });

  it('says of null that it must not be, unless the field is only left out', () => {
    expect(toldOf({ line: null, inner: null })).toEqual({
      '/line': 'must not be null',
      '/inner': 'must not be null',
    });
    expect(toldOf({ note: null })).toEqual({ '/note': 'must be text' });
  });

  it('asks for the type before it looks at what is in it', () => {
    expect(toldOf({ line: 7, note: [], remark: {}, code: 7, codes: 'a', digits: 7, inners: {} })).toEqual({
      ...{ '/line': 'must be text', '/note': 'must be text', '/remark': 'must be text' },
      ...{ '/code': 'must be text', '/codes': 'must be a list', '/digits': 'must be a list' },
      '/inners': 'must be a list',
    });
  });

  it('says of text what is wrong with it', () => {
    expect(toldOf({ line: 'a\u0007' })).toEqual({ '/line': 'holds control characters or broken ones' });
    expect(toldOf({ line: ' ' })).toEqual({ '/line': 'must hold more than spaces' });
    expect(toldOf({ line: 'a\nb' })).toEqual({ '/line': 'must be one line' });
    expect(toldOf({ line: '' })).toEqual({ '/line': 'must be 1 to 10 characters long' });
    expect(toldOf({ code: 'A' })).toEqual({ '/code': 'must be small letters' });
  });

  it('says of a list how long it may be, and what each of it must be', () => {
    expect(toldOf({ codes: ['a', 'b', 'c'], digits: [10], inners: [] })).toEqual({
      '/codes': 'must hold at most 2',
      '/digits': 'each must be a whole number from 0 to 9',
      '/inners': 'must hold at least 1',
    });
    expect(toldOf({ inners: [[]] })).toEqual({ '/inners': 'must be a list of objects' });
  });
});
