import type { BatchFacts, RuleReading } from '#libs/process';
import { expect, it } from 'vitest';
import { at, checkAt, held, judge, ruleOf } from './history.js';

/** What a text asks, in its own figures. */
export interface Asked {
  /** The lowest temperature, to a tenth of a degree, that is enough. */
  readonly celsius: number;
  readonly hours: number;
  /** When the batch is turned, as often as the text asks and no more. */
  readonly turnHours?: readonly number[];
  /** What the text says of the time: that it must be unbroken, that it need not, or nothing. */
  readonly time: 'unbroken' | 'added-up' | 'unsaid';
  /** What else the text asks, fulfilled. */
  readonly facts?: Partial<BatchFacts>;
}

const readings: readonly RuleReading[] = ['consecutive', 'cumulative'];

/** Tests that a rule is met by exactly what its text asks, and missed by an hour, a turn or a tenth of a degree less. */
export function itAsks(code: string, asked: Asked): void {
  const { celsius, hours, facts = {} } = asked;
  const turnHours = asked.turnHours ?? [];
  const judged = (toHour: number, degrees = celsius, turned = turnHours) =>
    judge(code, { checks: held(toHour, degrees), turnHours: turned, facts });

  it(`is met by ${hours} hours at ${celsius} °C and ${turnHours.length} turns`, () => {
    expect(judged(hours)).toMatchObject({
      ...{ status: 'met', metAtMs: at(hours), creditedHours: hours, turnsCredited: turnHours.length },
      rule: { code, citation: ruleOf(code).citation },
    });
  });

  it('is missed by an hour, or of one hour by a quarter', () => {
    const shown = hours - Math.min(1, hours / 4);
    expect(judged(shown)).toMatchObject({ metAtMs: null, creditedHours: shown });
  });

  it('is missed a tenth of a degree below', () => {
    expect(judged(hours, celsius - 0.1)).toMatchObject({ status: 'not-started', creditedHours: 0 });
  });

  if (turnHours.length > 0) {
    it.each(turnHours)('is missed by one turn, the one at hour %d', (left) => {
      const turned = turnHours.filter((hour) => hour !== left);
      expect(judged(hours, celsius, turned)).toMatchObject({
        ...{ metAtMs: null, creditedHours: hours, turnsCredited: turnHours.length - 1 },
      });
    });
  }
  itReadsTimeAs(code, asked);
}

/** The time in two halves, with a check a tenth of a degree too cold between them. */
function itReadsTimeAs(code: string, { celsius, hours, turnHours = [], time, facts = {} }: Asked): void {
  const half = hours / 2;
  const pause = Math.min(12, hours / 4);
  const checks = [
    ...held(half, celsius),
    checkAt(half + pause / 2, celsius - 0.1),
    ...held(hours + pause, celsius, half + pause),
  ];
  const turned = turnHours.map((hour) => (hour > half ? hour + pause : hour));
  it.each(readings)(`has its time ${time}, asked to read it as %s`, (reading) => {
    const verdict = judge(code, { checks, turnHours: turned, facts, reading });
    const addedUp = time === 'added-up' || (time === 'unsaid' && reading === 'cumulative');
    expect(verdict.reading).toBe(addedUp ? 'cumulative' : 'consecutive');
    expect(verdict.metAtMs).toBe(addedUp ? at(hours + pause) : null);
    expect(verdict.creditedHours).toBe(addedUp ? hours : half);
  });
}
