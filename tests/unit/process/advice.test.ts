import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adviceOf, odours, signs, urgencies } from '#libs/process';
import { actions } from '../../../libs/process/advice/actions.js';
import { causes } from '../../../libs/process/advice/causes.js';
import { cautions } from '../../../libs/process/advice/cautions.js';
import { guide } from '../../../libs/process/advice/guide.js';
import { at, raw, turn } from './batch.js';
import { advise, keysOf, pile, visit } from './advice-batch.js';

describe('the tables of advice', () => {
  const rows = Object.entries({ ...actions, ...causes, ...cautions });

  it.each(rows)('%s is one whole sentence with a source', (_, { text, source }) => {
    expect(text).toMatch(/^[A-Z][^.]*(1\.8[^.]*)?\.$/);
    expect(source.title.length).toBeGreaterThan(5);
  });

  it('are certain of nothing: a cause may be one', () => {
    const certain = Object.values(causes).filter(({ text }) =>
      /\b(must|surely|certainly|always)\b/.test(text),
    );
    expect(certain).toEqual([]);
  });

  it('hold nothing that is never told', () => {
    const told = Object.values(guide);
    const causesTold = new Set<string>(told.flatMap((row) => row.causes));
    expect(Object.keys(causes).filter((key) => !causesTold.has(key))).toEqual([]);
    const done = new Set<string>([
      ...told.flatMap((row) => [...row.first, ...row.last]),
      ...Object.values(causes).flatMap((row) => row.actions),
      ...['aerate', 'remix', 'water-from-above'],
    ]);
    expect(Object.keys(actions).filter((key) => !done.has(key))).toEqual([]);
  });

  it('warn of spores and lifting wherever material is moved by hand', () => {
    const moved = Object.entries(actions).filter(([, { text }]) => /^(Turn|Mix|Take it apart)/.test(text));
    expect(moved.length).toBeGreaterThan(5);
    for (const [, { cautions: keys }] of moved) {
      expect(keys).toEqual(expect.arrayContaining(['spores', 'lifting', 'wash']));
    }
  });
});

describe('advice', () => {
  it('is given the most urgent first', () => {
    const checks = [visit(5, [66, 50], { odour: 'sour', signs: ['flies'], moisture: 'dry' })];
    expect(keysOf(advise({ checks }))).toEqual(['uneven-heating', 'dry', 'sour', 'hot', 'flies']);
  });

  it('leaves out what lies after now', () => {
    expect(advise({ checks: [visit(5, [60]), visit(6, [90])] }, 5)).toEqual([]);
  });

  it('looks at no check without a probe', () => {
    expect(keysOf(advise({ checks: [visit(1, [])] }, 2))).toEqual([]);
  });

  const check = fc
    .record({
      days: fc.integer({ min: 0, max: 40 }),
      celsius: fc.array(fc.double({ min: -10, max: 120, noNaN: true }), { maxLength: 4 }),
      moisture: fc.constantFrom('dry', 'moist', 'wet', null),
      odour: fc.constantFrom(...odours, null),
      seen: fc.option(fc.subarray([...signs])),
      ambientDeciC: fc.option(fc.integer({ min: -300, max: 400 })),
    })
    .map(({ days, celsius, seen, ...rest }) => visit(days, celsius, { ...rest, signs: seen }));
  const history = fc.record({
    checks: fc.array(check, { maxLength: 12 }),
    turns: fc.array(
      fc.integer({ min: 0, max: 900 }).map((hours) => turn(hours)),
      { maxLength: 5 },
    ),
    rawAdditions: fc.array(
      fc.integer({ min: 0, max: 400 }).map((hours) => raw(hours)),
      { maxLength: 3 },
    ),
    stage: fc.constantFrom('building', 'active', 'curing', 'released', 'emptied', 'condemned', 'merged'),
    method: fc.constantFrom('turned-windrow', 'static-aerated'),
  });

  it('does not depend on the order of the facts, and each thing is told once', () => {
    fc.assert(
      fc.property(history, fc.integer({ min: 0, max: 1000 }), (facts, hours) => {
        const once = facts.checks.filter(
          ({ id }, index) => facts.checks.findIndex((each) => each.id === id) === index,
        );
        const given = pile({ ...facts, checks: once });
        const advice = adviceOf(given, at(hours));
        const shuffled = { ...given, checks: once.toReversed(), turns: given.turns.toReversed() };
        expect(adviceOf(shuffled, at(hours))).toEqual(advice);
        expect(new Set(keysOf(advice)).size).toBe(advice.length);
        const ranks = advice.map(({ urgency }) => urgencies.indexOf(urgency));
        expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
        for (const { actions: todo, causes: likely } of advice) {
          expect(new Set(todo.map(({ key }) => key)).size).toBe(todo.length);
          expect(new Set(likely.map(({ key }) => key)).size).toBe(likely.length);
        }
      }),
    );
  });

  it('always warns of fire where the last check was at 80 °C or more', () => {
    fc.assert(
      fc.property(history, fc.integer({ min: 800, max: 1500 }), (facts, deciC) => {
        if (facts.stage === 'emptied' || facts.stage === 'merged') return;
        const checks = [...facts.checks, visit(41, [20, deciC / 10])];
        const given = pile({ ...facts, checks });
        const advice = adviceOf(given, at(42 * 24));
        expect(advice.map(({ key, urgency }) => [key, urgency])).toEqual([['fire-danger', 'now']]);
      }),
    );
  });
});
