/**
 * A published table of concern, possible causes and solution: Asheville GreenWorks, "Backyard composting troubleshooting",
 * which refers to NC State Extension (composting.ces.ncsu.edu), read on a third-party copy whose columns had run together;
 * the pairing of its rows is ours. Its rows, each cause with its solution:
 * - rotten odour / too wet: excess moisture or too much food → turn, add dry leaves, sawdust, chips or straw;
 * - ammonia odour: too much grass → add brown material;
 * - low temperature: pile too small → bigger or insulate; insufficient moisture → add water while turning; poor aeration →
 *   turn; lack of green → mix in grass or food scraps; cold weather → bigger or insulate;
 * - high temperature: pile too large → reduce; insufficient ventilation → turn;
 * - pests: meat and fat → remove or cover, or an animal-proof bin, and turn to increase heat.
 *
 * Beside it, each read in a stored copy:
 * - University of Vermont, "Compost happens, or does it?": rotten is too wet or too compacted, turn every few days, dry
 *   porous material; ammonia is too much nitrogen, add carbon; as moist as a wrung-out sponge.
 * - Cornell Chronicle, July 1998: rotten egg is anaerobic, add dry bulking material; ammonia is too much nitrogen, add browns.
 * - Cornell Composting, "Getting the Right Mix": below 35 to 40 % moisture rates fall greatly, below 30 % they virtually stop.
 * - Mystic Valley Public Health Coalition: mesh of 1/4 to 1/2 inch, tight lid, turn and keep moist against rodents.
 * - LSU AgCenter 3838-D: C:N 20 to 40, moisture 40 to 65 %, 800 to 1,200 lb/yd³, oxygen above 5 %.
 */
import { describe, expect, it } from 'vitest';
import type { Advice } from '#libs/process';
import { actionsOf, advise, causesOf, find, keysOf, mix, visit } from '../../unit/process/advice-batch.js';
import { actions } from '../../../libs/process/advice/actions.js';
import { causes } from '../../../libs/process/advice/causes.js';

const smelling = (odour: 'ammonia' | 'rotten') =>
  find(advise({ checks: [visit(5, [50], { odour })] }), odour);
const cold = find(advise({ checks: [visit(8, [30])] }), 'not-heating');
const tooHot = find(advise({ checks: [visit(5, [72])] }), 'too-hot');
const pests = find(advise({ checks: [visit(5, [60], { signs: ['rodents'] })] }), 'rodents');

describe('the published table', () => {
  const table: [concern: string, advice: Advice, cause: keyof typeof causes, action: keyof typeof actions][] =
    [
      ['rotten odour, excess moisture', smelling('rotten'), 'wet', 'mix-dry'],
      ['ammonia odour, too much grass', smelling('ammonia'), 'much-nitrogen', 'mix-browns'],
      ['low temperature, too small', cold, 'small', 'make-bigger'],
      ['low temperature, too small', cold, 'small', 'insulate'],
      ['low temperature, insufficient moisture', cold, 'dry', 'water'],
      ['low temperature, poor aeration', cold, 'little-air', 'turn'],
      ['low temperature, lack of green', cold, 'little-nitrogen', 'mix-greens'],
      ['low temperature, cold weather', cold, 'cold-air', 'insulate'],
      ['high temperature, too large', tooHot, 'large', 'make-smaller'],
      ['high temperature, insufficient ventilation', tooHot, 'little-air', 'turn'],
      ['pests, meat and fat', pests, 'meat-fat', 'no-meat'],
      ['pests, uncovered food', pests, 'open-food', 'bury-food'],
      ['pests, a pile that is not hot', pests, 'cool-dry-nest', 'heat-it-up'],
    ];

  it.each(table)('%s', (_, advice, cause, action) => {
    expect(causesOf(advice)).toContain(cause);
    expect(actionsOf(advice)).toContain(action);
    expect(causes[cause].actions).toContain(action);
  });
});

describe('the sources beside it', () => {
  it('Vermont and Cornell: a rotten smell wants air and dry bulking material, an ammonia smell carbon', () => {
    expect(actionsOf(smelling('rotten'))).toEqual(expect.arrayContaining(['bulk-and-air', 'turn-often']));
    expect(smelling('rotten').source.title).toContain('Cornell');
    expect(actionsOf(smelling('ammonia'))[0]).toBe('mix-browns');
    expect(smelling('ammonia').source.title).toContain('Vermont');
  });

  it('Cornell: dry below 40 %', () => {
    const advice = find(advise({ checks: [visit(5, [60], { moisturePercent: 39 })] }), 'dry');
    expect(advice.because).toContain('35 to 40 %');
    expect(advice.because).toContain('30 %');
    expect(advice.source.title).toContain('Cornell');
  });

  it('LSU: 40 and 65 % water, C:N 20 and 40, 1,200 lb/yd³ (712 kg/m³) and 5 % oxygen are the ends of what is reasonable', () => {
    const first = (built: object, seen: object = {}) => {
      const check = visit(8, [30], { moisture: 'moist', ...seen });
      const advice = find(advise({ checks: [check], mix: mix(built), turns: [] }, 8.1), 'not-heating');
      return advice.causes.filter((cause) => cause.seen !== null).map(({ key }) => key);
    };
    expect(first({ carbonToNitrogen: 40 })).not.toContain('little-nitrogen');
    expect(first({ carbonToNitrogen: 40.1 })).toContain('little-nitrogen');
    expect(first({ bulkDensityKgM3: 712 })).not.toContain('dense');
    expect(first({ bulkDensityKgM3: 713 })).toContain('dense');
    const oxygen = (percent: number) =>
      find(
        advise({
          checks: [visit(8, [30], { oxygenPercent: percent })],
          rawAdditions: [{ occurredAtMs: Date.parse('2024-05-08T08:00-06:00'), what: 'leaves' }],
        }),
        'not-heating',
      ).causes.some(({ key, seen }) => key === 'little-air' && seen !== null);
    expect(oxygen(5)).toBe(false);
    expect(oxygen(4.9)).toBe(true);
    expect(keysOf(advise({ checks: [visit(5, [60], { moisturePercent: 40 })] }))).toEqual([]);
    expect(keysOf(advise({ checks: [visit(5, [60], { moisturePercent: 65 })] }))).toEqual([]);
  });

  it('Mystic Valley: no gap wider than 1/4 to 1/2 inch', () => {
    const gaps = pests.actions.find(({ key }) => key === 'close-gaps');
    expect(gaps).toMatchObject({
      source: { status: 'verified' },
      text: expect.stringContaining('1/4 to 1/2 inch'),
    });
  });
});
