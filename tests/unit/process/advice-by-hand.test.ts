import { describe, expect, it } from 'vitest';
import { at, turn } from './batch.js';
import { actionsOf, advise, causesOf, find, keysOf, mix, visit } from './advice-batch.js';

const seen = (facts: object) => [visit(5, [60], facts)];

describe('dry and wet', () => {
  it.each([
    [{ moisture: 'dry' as const }, ['dry']],
    [{ moisture: 'moist' as const }, []],
    [{ moisture: 'wet' as const }, ['wet']],
    [{ moisturePercent: 39.9 }, ['dry']],
    [{ moisturePercent: 40 }, []],
    [{ moisturePercent: 65 }, []],
    [{ moisturePercent: 65.1 }, ['wet']],
  ])('%j: %j', (facts, keys) => {
    expect(keysOf(advise({ checks: seen(facts) }))).toEqual(keys);
  });

  it('waits for the next check where water was given since', () => {
    const facts = { checks: seen({ moisture: 'dry' }) };
    const watered = [{ occurredAtMs: at(125), volumeMl: 200_000 }];
    expect(find(advise(facts, 6), 'dry').urgency).toBe('soon');
    const advice = find(advise({ ...facts, waterings: watered }, 6), 'dry');
    expect(advice).toMatchObject({ urgency: 'watch' });
    expect(advice.seen[1]).toBe('It was watered since, on 11 May 2024 13:00.');
  });

  it('goes by the last check that noted it, for a fortnight', () => {
    const checks = [...seen({ moisture: 'dry' }), visit(8, [60])];
    expect(keysOf(advise({ checks }, 9))).toEqual(['dry']);
    expect(keysOf(advise({ checks: [...checks, visit(20, [60])] }))).toEqual([]);
    expect(keysOf(advise({ checks: [...checks, visit(9, [60], { moisture: 'moist' })] }))).toEqual([]);
  });
});

describe('smells', () => {
  it.each(['earthy', 'none'] as const)('%s is good', (odour) => {
    expect(keysOf(advise({ checks: seen({ odour }) }))).toEqual([]);
  });

  it('of ammonia: carbon first', () => {
    const advice = find(
      advise({ checks: seen({ odour: 'ammonia' }), mix: mix({ carbonToNitrogen: 15 }) }),
      'ammonia',
    );
    expect(advice.causes[0]).toMatchObject({ key: 'much-nitrogen', seen: 'The C:N of the mix is 15.' });
    expect(actionsOf(advice)[0]).toBe('mix-browns');
  });

  it('rotten: air and dry bulk first', () => {
    const advice = find(advise({ checks: seen({ odour: 'rotten', moisture: 'wet' }) }), 'rotten');
    expect(causesOf(advice).slice(0, 2)).toEqual(['no-air-wet', 'wet']);
    expect(actionsOf(advice)[0]).toBe('bulk-and-air');
  });

  it('sour: acids', () => {
    expect(causesOf(find(advise({ checks: seen({ odour: 'sour' }) }), 'sour'))).toContain('acids');
  });

  it('wait for the next check where the pile was turned since', () => {
    const advice = find(advise({ checks: seen({ odour: 'rotten' }), turns: [turn(122)] }, 6), 'rotten');
    expect(advice).toMatchObject({ urgency: 'watch' });
    expect(advice.seen[1]).toBe('It was turned since, on 11 May 2024 10:00.');
  });
});

describe('signs', () => {
  it('are told as they were seen, the urgent ones first', () => {
    const advice = advise({ checks: seen({ signs: ['flies', 'rodents', 'leachate'] }) });
    expect(keysOf(advice)).toEqual(['rodents', 'leachate', 'flies']);
    expect(find(advice, 'rodents').seen).toEqual(['Check of 11 May 2024 08:00: rodents seen.']);
    expect(actionsOf(find(advice, 'leachate'))[0]).toBe('catch-leachate');
  });

  it('are gone when a later check saw none, not when nobody looked', () => {
    const first = visit(5, [60], { signs: ['flies'] });
    expect(keysOf(advise({ checks: [first, visit(6, [60])] }))).toEqual(['flies']);
    expect(keysOf(advise({ checks: [first, visit(6, [60], { signs: [] })] }))).toEqual([]);
  });
});
