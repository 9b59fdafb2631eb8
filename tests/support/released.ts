import type { TestApi } from './api.js';
import { heat, hoursAfter } from './heat.js';
import { made, type Programme } from './programme.js';
import { BEGUN_AT, lotAtHub1, type Yard } from './yard-work.js';

export const FILLED_AT = hoursAfter(BEGUN_AT, 1);
export const HOT_FROM = hoursAfter(BEGUN_AT, 24);
export const CURING_FROM = hoursAfter(HOT_FROM, 120);

/** Of the yard of these tests: 72 hours in a static aerated pile, 30 days of cure, a maturity sample. */
export const permitTerms = {
  ...{ reference: 'HS-PERMIT-3', validFrom: '2026-01-01' },
  ...{ processRule: 'us-503-pfrp-static-aerated', cureDays: 30, cureReheat: { value: 45, unit: 'C' } },
  ...{ requiredSamples: ['maturity'], materials: ['food-scraps', 'leaves'] },
};

/** A batch of 1,000 kg that was hot for five days and cures since 9 March 2026. */
export async function makeCuring(api: TestApi, programme: Programme, yard: Yard): Promise<string> {
  const { id } = await yard.begin({ method: 'static-aerated' });
  const manager = yard.manager.token;
  const lot = await lotAtHub1(api, programme, 1_000_000);
  const items = [{ dropOffId: lot }];
  await made(api, `/batches/${id as string}/assignments`, { items, occurredAt: FILLED_AT }, manager);
  await heat(api, id, { from: HOT_FROM, hours: 96, as: yard.operator.token });
  for (const [to, occurredAt] of [
    ['active', HOT_FROM],
    ['curing', CURING_FROM],
  ]) {
    await made(api, `/batches/${id as string}/stage`, { to, occurredAt }, manager);
  }
  return id;
}

/** A maturity sample of the end of the cure. */
export const maturity = (outcome: 'passed' | 'failed' | 'information', days = 31) => ({
  ...{ kind: 'maturity', outcome, results: [{ parameter: 'emergence', value: 85, unit: '% of control' }] },
  occurredAt: hoursAfter(CURING_FROM, days * 24),
});
