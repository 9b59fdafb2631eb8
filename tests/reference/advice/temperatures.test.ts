/**
 * Sources, each read in a stored copy:
 * - Surrey Fire and Rescue Service, "Fire safety management of compost piles" (surreycc.gov.uk): action before "the
 *   70-80ºC range where suitable conditions for self-ignition may occur"; turn the compost over and spray water onto what is
 *   exposed; "in excess of 80ºC and the overheated area is too large for you to deal with": the fire service "before opening
 *   the pile"; depth six feet or less.
 * - USDA NRCS, Conservation Practice Job Sheet 317 (2002), on a third-party copy: operating temperature 131 °F within about
 *   7 days; at or above 110 °F for the rest; closely monitor above 165 °F; cool at once above 185 °F; where a pile does not
 *   reach temperature, look into moisture, porosity and mixing.
 * - Manitoba Agriculture: 65 °C the top of the acceptable band, above 70 °C too hot for the microorganisms.
 * - AgriFutures, poultry waste composting guidelines, "Curing": sustained below 45 °C even after turning; one that reheats
 *   above it needs more frequent turns or less size.
 * - USDA APHIS, monitoring of in-house composting: readings that agree within 10 °F.
 * - From memory: 160 °F (71 °C) as a trigger to turn or aerate.
 */
import { describe, expect, it } from 'vitest';
import { temperatureToDeciC } from '#libs/quantities';
import { actionsOf, advise, causesOf, find, keysOf, visit } from '../../unit/process/advice-batch.js';
import { at } from '../../unit/process/batch.js';

const hotAt = (value: number, unit: 'C' | 'F' = 'C') =>
  advise({ checks: [visit(5, [temperatureToDeciC({ value, unit }) / 10])] });

describe('published temperatures', () => {
  it('Manitoba: 65 °C is still acceptable, more is not', () => {
    expect(hotAt(65)).toEqual([]);
    expect(find(hotAt(65.1), 'hot').source.title).toContain('Manitoba');
  });

  it('Surrey: act before 70 to 80 °C: turn it over and hose down what is exposed', () => {
    const advice = find(hotAt(70), 'too-hot');
    expect(advice.source.title).toContain('Surrey');
    expect(actionsOf(advice)).toEqual(expect.arrayContaining(['turn-and-hose', 'make-smaller']));
    expect(advice.actions.find(({ key }) => key === 'make-smaller')?.text).toContain('six feet');
  });

  it('160 °F is a trigger to turn (from memory, and marked so)', () => {
    expect(find(hotAt(160, 'F'), 'too-hot').source.status).toBe('from-memory');
  });

  it('NRCS 317: watch closely above 165 °F', () => {
    expect(find(hotAt(165, 'F'), 'too-hot').source.title).not.toContain('317');
    expect(find(hotAt(166, 'F'), 'too-hot').source.title).toContain('317');
  });

  it('Surrey: above 80 °C the fire service is asked before a large pile is opened', () => {
    const advice = find(hotAt(80.1), 'fire-danger');
    expect(advice).toMatchObject({ urgency: 'now', source: { status: 'verified' } });
    expect(advice.source.title).toContain('Surrey');
    const call = advice.actions.findIndex(({ key }) => key === 'call-fire-service');
    const open = advice.actions.findIndex(({ key }) => key === 'cool-small-part');
    expect(call).toBeLessThan(open);
    expect(advice.actions[call]?.text).toContain('before anybody opens the pile');
  });

  it('NRCS 317: above 185 °F it is cooled at once, and the fire service is still asked first', () => {
    const advice = find(hotAt(186, 'F'), 'fire-danger');
    expect(advice.source.title).toContain('317');
    expect(advice.because).toContain('85 °C (185 °F)');
    expect(actionsOf(advice)).toContain('call-fire-service');
  });

  it('NRCS 317: a pile below 131 °F after about 7 days is looked into for moisture, porosity and mixing', () => {
    const belowAt = (fahrenheit: number, days: number) =>
      keysOf(advise({ checks: [visit(days, [temperatureToDeciC({ value: fahrenheit, unit: 'F' }) / 10])] }));
    expect(belowAt(130, 7)).toEqual(['not-heating']);
    expect(belowAt(131, 7)).toEqual([]);
    expect(belowAt(130, 6)).toEqual([]);
    const advice = find(advise({ checks: [visit(7, [54])] }), 'not-heating');
    expect(advice.source.title).toContain('317');
    expect(causesOf(advice)).toEqual(expect.arrayContaining(['dry', 'wet', 'dense', 'mixing']));
  });

  it('NRCS 317: a pile that was hot and falls below 110 °F is looked into', () => {
    const fallen = (fahrenheit: number) =>
      keysOf(
        advise({
          checks: [
            visit(5, [60]),
            visit(9, [temperatureToDeciC({ value: fahrenheit, unit: 'F' }) / 10], { moisture: 'dry' }),
          ],
        }),
      );
    expect(fallen(110)).toEqual(['dry']);
    expect(fallen(109)).toEqual(['stalled', 'dry']);
  });

  it('AgriFutures: a curing pile above 45 °C after a turn is turned more often or made smaller', () => {
    const advice = find(
      advise({ stage: 'curing', stageSinceMs: at(240), checks: [visit(12, [45.1])] }),
      'reheated',
    );
    expect(advice.source.title).toContain('AgriFutures');
    expect(advice.actions[0]?.text).toMatch(/more often, or make it smaller/);
  });

  it('APHIS: probes within 10 °F agree', () => {
    const apart = (fahrenheit: number) =>
      keysOf(
        advise({ checks: [visit(5, [60, temperatureToDeciC({ value: 140 - fahrenheit, unit: 'F' }) / 10])] }),
      );
    expect(apart(9)).toEqual([]);
    expect(apart(11)).toEqual(['uneven-heating']);
  });
});
