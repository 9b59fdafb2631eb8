import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { type Caller, newId } from './client.js';
import { PASSWORD } from './places.js';
import type { Hub } from './hub-day.js';

interface Jurisdiction {
  id: string;
  name: string;
  reportingYearStart: string;
}

const TOWN = 'Town of Lark Hollow';

/**
 * The town is told of its last whole reporting year. Then a slip turns up that nobody had typed in, and it is told again,
 * with what is other now and why.
 */
export async function reportToTown(coordinator: Caller, hub: Hub, last: Temporal.PlainDate): Promise<void> {
  const { items } = await coordinator.get<{ items: Jurisdiction[] }>('/jurisdictions?limit=200');
  const town = items.find(({ name }) => name === TOWN);
  if (!town) throw new Error('the demo has no such town');
  const lastDay = lastDayOfYear(town, last);
  const { id } = await coordinator.post('/diversion-reports', {
    id: newId(),
    jurisdictionId: town.id,
    yearOf: lastDay.toString(),
    rate: {
      formula: 'us-epa-1997',
      disposed: { value: 5230, unit: 'short-ton' },
      source: 'Lark Hollow Public Works, scale-house totals of the year',
    },
    greenhouse: { set: 'us-epa-warm-16' },
    password: PASSWORD,
  });
  await hub.volunteer.post('/drop-offs', {
    id: newId(),
    siteId: hub.id,
    occurredAt: at(lastDay.subtract({ days: 12 }), hub.fromHour, 50),
    material: 'food-scraps',
    jurisdictionId: hub.jurisdictionId,
    depositor: 'school',
    weight: { net: { value: 59, unit: 'lb' } },
    note: 'From a weigh slip found behind the counter',
  });
  await coordinator.post(`/diversion-reports/${id}/versions`, {
    id: newId(),
    reason: 'A weigh slip of June was found behind the counter after the report had gone out.',
    password: PASSWORD,
  });
}

/** Of the last of its reporting years that was over by that day. */
function lastDayOfYear({ reportingYearStart }: Jurisdiction, last: Temporal.PlainDate): Temporal.PlainDate {
  const [month = 1, day = 1] = reportingYearStart.split('-').map(Number);
  const began = last.with({ month, day });
  const begun = began.until(last).days >= 0 ? began : began.subtract({ years: 1 });
  return begun.subtract({ days: 1 });
}
