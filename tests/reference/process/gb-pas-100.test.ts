/**
 * BSI PAS 100 (2011, 2018), recommended minimum for turned systems, from memory: 65 °C or more for 7 days, at least 2 turns,
 * moisture at least 51 % by mass; E. coli at most 1,000 CFU/g and no Salmonella in 25 g. Whether the 7 days are continuous
 * is unsettled between sources.
 */
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { at, held, judge, moistureOf, ruleOf } from './history.js';

const code = 'gb-pas-100';
const turnHours = [56, 112];

describe('7 days at 65 °C, two turns and 51 % water', () => {
  itAsks(code, {
    ...{ celsius: 65, hours: 168, turnHours, time: 'unsaid' },
    facts: { moistures: moistureOf(51, 180) },
  });

  it.each([
    [51, 'met', at(168)],
    [50, 'unmet', null],
    [undefined, 'unknown', null],
  ])('water at %s percent: %s', (percent, state, metAtMs) => {
    const facts = percent === undefined ? {} : { moistures: moistureOf(percent, 168) };
    const verdict = judge(code, { checks: held(168, 65), turnHours, facts });
    expect(verdict.conditions).toMatchObject([{ key: 'moisture', state }]);
    expect(verdict.metAtMs).toBe(metAtMs);
  });

  it('goes with two tests of the product, and says that it is from memory', () => {
    expect(ruleOf(code)).toMatchObject({
      textStatus: 'from-memory',
      microbes: {
        logic: 'both',
        tests: [
          { microbe: 'e-coli', atMost: 1000, unit: 'CFU/g' },
          { microbe: 'salmonella', below: 1, unit: 'CFU/25 g' },
        ],
      },
    });
  });
});
