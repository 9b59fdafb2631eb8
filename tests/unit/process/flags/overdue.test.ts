import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { overdueCautions, type UsedInstrument } from '#libs/process';

const timeZone = 'America/Denver';
const at = (text: string) => Date.parse(text);
const use = (text: string, readings = 1) => ({ fromMs: at(text), toMs: at(text), readings });
const verified = (text: string, passed = true) => ({ occurredAtMs: at(text), passed });

const cautionsOf = (facts: Partial<UsedInstrument>) =>
  overdueCautions(
    [{ instrument: 'T-1', uses: [], verifications: [], verifyEveryDays: null, ...facts }],
    timeZone,
  );

describe('readings of an instrument whose verification is overdue', () => {
  // Good until 4 February 2026, midnight in Denver: 2026-02-05T07:00Z.
  const verifications = [verified('2026-01-05T12:00:00-07:00')];

  it('are flagged from the first instant after the last good local day, and not before', () => {
    const uses = [use('2026-02-05T06:59:59.999Z', 4), use('2026-02-05T07:00:00Z', 3)];
    expect(cautionsOf({ uses, verifications, verifyEveryDays: 30 })).toEqual([
      {
        kind: 'verification-overdue',
        fromMs: at('2026-02-05T07:00:00Z'),
        toMs: at('2026-02-05T07:00:00Z'),
        instrument: 'T-1',
        text:
          'T-1, 3 readings, on 5 Feb 2026 00:00: its last verification, of 5 Jan 2026, was good until 4 Feb 2026 ' +
          '(one is asked for every 30 days). They are used all the same.',
      },
    ]);
  });

  it('are told once a stretch, with how many and from when to when', () => {
    const uses = [
      use('2026-02-20T15:00:00Z', 2),
      use('2026-02-10T15:00:00Z', 2),
      use('2026-03-01T15:00:00Z', 2),
      use('2026-04-15T15:00:00Z', 1),
    ];
    const again = [...verifications, verified('2026-02-25T15:00:00Z')];
    const cautions = cautionsOf({ uses, verifications: again, verifyEveryDays: 30 });
    expect(cautions.map(({ fromMs, toMs }) => [fromMs, toMs])).toEqual([
      [at('2026-02-10T15:00:00Z'), at('2026-02-20T15:00:00Z')],
      [at('2026-04-15T15:00:00Z'), at('2026-04-15T15:00:00Z')],
    ]);
    expect(cautions[0]?.text).toContain('4 readings, from 10 Feb 2026 08:00 to 20 Feb 2026 08:00');
  });

  it('are never flagged where the programme has not decided', () => {
    expect(cautionsOf({ uses: [use('2036-01-01T00:00:00Z')], verifications })).toEqual([]);
  });
});

describe('an instrument that was never verified', () => {
  const uses = [use('2026-02-05T12:00:00Z')];

  it('is flagged only where verifications are asked for', () => {
    expect(cautionsOf({ uses })).toEqual([]);
    expect(cautionsOf({ uses, verifyEveryDays: 90 })[0]?.text).toContain(
      'it had not been verified yet, and one is asked for every 90 days',
    );
  });

  it('is flagged for readings before its first verification, and not for the one of that very instant', () => {
    const verifications = [verified('2026-02-05T12:00:00Z')];
    const before = [use('2026-02-05T11:59:59.999Z'), ...uses];
    const cautions = cautionsOf({ uses: before, verifications, verifyEveryDays: 90 });
    expect(cautions.map(({ toMs }) => toMs)).toEqual([at('2026-02-05T11:59:59.999Z')]);
  });
});

describe('a verification that failed', () => {
  const failed = [verified('2026-01-05T12:00:00Z'), verified('2026-03-05T12:00:00Z', false)];

  it('flags what was read after it, until one that passed, whatever was decided', () => {
    const uses = [use('2026-03-05T12:00:00Z'), use('2026-03-09T12:00:00Z'), use('2026-03-10T12:00:00Z')];
    const verifications = [...failed, verified('2026-03-10T12:00:00Z')];
    const cautions = cautionsOf({ uses, verifications });
    expect(cautions).toHaveLength(1);
    expect(cautions[0]).toMatchObject({ fromMs: uses[0]?.fromMs, toMs: uses[1]?.fromMs });
    expect(cautions[0]?.text).toContain('it had failed its verification on 5 Mar 2026 05:00');
  });

  it('flags what was read since the one before, which nobody can vouch for now', () => {
    const uses = [use('2026-02-01T12:00:00Z'), use('2026-02-20T12:00:00Z')];
    const whys = cautionsOf({ uses, verifications: failed, verifyEveryDays: 30 }).map(({ text }) => text);
    expect(whys).toHaveLength(2);
    expect(whys[0]).toContain('it failed its next verification, on 5 Mar 2026 05:00');
    expect(whys[1]).toContain('was good until 4 Feb 2026');
  });
});

describe('any log of verifications', () => {
  const day = 86_400_000;
  const instant = fc.integer({ min: at('2025-01-01T00:00:00Z'), max: at('2027-01-01T00:00:00Z') });
  const log = fc.array(fc.record({ occurredAtMs: instant, passed: fc.boolean() }), { maxLength: 6 });
  const uses = fc.array(
    instant.map((ms) => ({ fromMs: ms, toMs: ms, readings: 1 })),
    { maxLength: 20 },
  );

  it('counts every use once at most, in whatever order things are told', () => {
    fc.assert(
      fc.property(log, uses, fc.option(fc.integer({ min: 1, max: 400 })), (verifications, used, every) => {
        const facts = { uses: used, verifications, verifyEveryDays: every };
        const cautions = cautionsOf(facts);
        const counted = cautions.reduce(
          (sum, { text }) => sum + Number(/, (\d+) reading/.exec(text)?.[1]),
          0,
        );
        expect(counted).toBeLessThanOrEqual(used.length);
        expect(cautionsOf({ ...facts, uses: used.toReversed() })).toEqual(cautions);
      }),
    );
  });

  it('says nothing of an instrument that passed at least as often as is asked', () => {
    fc.assert(
      fc.property(uses, fc.integer({ min: 1, max: 60 }), (used, every) => {
        const first = at('2024-12-31T00:00:00Z');
        const verifications = Array.from({ length: Math.ceil(740 / every) }, (_, index) => ({
          occurredAtMs: first + index * every * day,
          passed: true,
        }));
        expect(cautionsOf({ uses: used, verifications, verifyEveryDays: every })).toEqual([]);
      }),
    );
  });
});
