/**
 * Sources, each read in a stored copy:
 * - Town of Westford, Massachusetts, composting FAQ (westfordma.gov, QID 123): finished compost has the temperature of the
 *   outside and does not reheat; "still hot, smells like ammonia, or you can still recognize much of the original
 *   material": not ready; "dark, brown, crumbly … with a pleasant, earthy odor", not rotten; woody pieces aside.
 * - AgriFutures, poultry waste composting guidelines, "Curing": below 45 °C even after turning; complete "within 5°C or so
 *   of ambient".
 */
import { describe, expect, it } from 'vitest';
import { readinessOf } from '#libs/process';
import { visit } from '../../unit/process/advice-batch.js';
import { at, timeZone, turn } from '../../unit/process/batch.js';

type Seen = Parameters<typeof visit>[2];

const states = (celsius: number, seen: Seen) => {
  const facts = {
    ...{ timeZone, curingSinceMs: at(0), reheatDeciC: null, samples: [], lastRawAtMs: null },
    ...{ checks: [visit(10, [celsius], { ambientDeciC: 150, ...seen })], turns: [turn(24)] },
  };
  return Object.fromEntries(readinessOf(facts, at(10 * 24)).map(({ key, state }) => [key, state]));
};

describe('published signs', () => {
  it('Westford: as warm as the outside, not reheating, crumbly, earthy, nothing to recognise', () => {
    expect(states(16, { odour: 'earthy', texture: 'crumbly', inputsVisible: false })).toMatchObject({
      ...{ temperature: 'yes', 'no-reheating': 'yes', smell: 'yes', texture: 'yes', inputs: 'yes' },
    });
  });

  it('Westford: still hot, smelling of ammonia or rotten, much to recognise: each is a no', () => {
    expect(states(50, { odour: 'ammonia', inputsVisible: true })).toMatchObject({
      ...{ temperature: 'no', 'no-reheating': 'no', smell: 'no', inputs: 'no' },
    });
    expect(states(50, { odour: 'rotten' })).toMatchObject({ smell: 'no' });
  });

  it('AgriFutures: below 45 °C after a turn, and within 5 °C of the air', () => {
    expect(states(44.9, {})).toMatchObject({ temperature: 'no', 'no-reheating': 'yes' });
    expect(states(45, {})).toMatchObject({ 'no-reheating': 'no' });
    expect(states(20, {})).toMatchObject({ temperature: 'yes' });
    expect(states(20.1, {})).toMatchObject({ temperature: 'no' });
  });
});
