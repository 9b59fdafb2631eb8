import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { newId } from './client.js';
import { PASSWORD } from './places.js';
import type { Random } from './random.js';
import type { Pile, Yard } from './story.js';

interface BalanceAnswer {
  inputKg: number;
}

const kg = (value: number) => ({ value: Number(value.toFixed(1)), unit: 'kg' });

/** The last day of a batch: screened, signed for, and carried away to gardens. */
export async function finishBatch(
  yard: Yard,
  pile: Pile,
  day: Temporal.PlainDate,
  random: Random,
): Promise<void> {
  const path = `/batches/${pile.id}`;
  const { manager } = yard;
  const { inputKg } = await manager.get<BalanceAnswer>(`${path}/balance`);
  const left = inputKg * random.between(0.38, 0.5);
  const residue = pile.course === 'contaminated' ? left * 0.11 : left * random.between(0.002, 0.006);
  const overs = left * random.between(0.18, 0.26);
  const compost = left - overs - residue;
  await manager.post(`${path}/screenings`, {
    id: newId(),
    occurredAt: at(day, 9),
    compost: kg(compost),
    compostVolume: { value: Number((compost / 560).toFixed(2)), unit: 'm3' },
    overs: kg(overs),
    residue: kg(residue),
    residueWentTo: 'landfill',
  });
  // Of a static heap the chips are bought anew: its rule asks for a C:N, which of overs is not known.
  if (yard.turns && pile.course === 'good') yard.overs.push({ batchId: pile.id, massKg: kg(overs).value });
  await manager.post(`${path}/release`, { password: PASSWORD, overrides: [], occurredAt: at(day, 12) });
  await giveAway(yard, path, compost, day, random);
  await manager.post(`${path}/stage`, { to: 'emptied', occurredAt: at(day, 17) });
}

async function giveAway(
  { manager }: Yard,
  path: string,
  compostKg: number,
  day: Temporal.PlainDate,
  random: Random,
): Promise<void> {
  const share = random.between(0.5, 0.7);
  const takers = [
    { recipient: 'community-garden', use: 'vegetable-beds', mass: kg(Math.floor(compostKg * share)) },
    {
      recipient: 'household',
      use: 'ornamental-beds',
      mass: kg(Math.floor(compostKg * (0.98 - share))),
    },
  ];
  for (const [index, taker] of takers.entries()) {
    await manager.post(`${path}/distributions`, { id: newId(), occurredAt: at(day, 13 + index), ...taker });
  }
}
