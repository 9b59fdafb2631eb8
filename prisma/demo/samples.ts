import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { newId } from './client.js';
import type { Random } from './random.js';
import type { Pile, Yard } from './story.js';

/** Days of the cure on which samples are taken. */
const MATURITY_ON_DAY = 21;
const PATHOGENS_ON_DAY = 28;

const LABORATORY = 'Saltbush Soil Laboratory';

interface Panel {
  kind: string;
  laboratory: string;
  results: object[];
  outcome?: 'information';
  finding?: string;
}

/** What is tested of a curing pile on this day, at whichever yard's permit asks for it. */
export async function takeSamples(
  yard: Yard,
  pile: Pile,
  day: Temporal.PlainDate,
  cured: number,
  random: Random,
): Promise<void> {
  for (const panel of panelsOf(yard, pile, cured, random)) {
    await yard.manager.post(`/batches/${pile.id}/samples`, {
      id: newId(),
      occurredAt: at(day, 11),
      outcome: 'passed',
      ...panel,
    });
  }
}

function panelsOf({ samples }: Yard, { course }: Pile, cured: number, random: Random): Panel[] {
  const asked = (kind: string) => samples.includes(kind);
  if (cured === MATURITY_ON_DAY) {
    return [
      ...(asked('maturity') ? [maturity(random)] : []),
      ...(asked('germination') ? [germination(random)] : []),
    ];
  }
  if (cured !== PATHOGENS_ON_DAY || !asked('pathogens')) return [];
  return [pathogens(random), metals(random), ...(course === 'contaminated' ? [contaminants()] : [])];
}

const tenths = (random: Random, low: number, high: number): number =>
  Number(random.between(low, high).toFixed(1));

const maturity = (random: Random): Panel => ({
  kind: 'maturity',
  laboratory: LABORATORY,
  results: [
    { parameter: 'self-heating', value: random.whole(4, 9), unit: 'C above ambient' },
    {
      parameter: 'co2-evolution',
      value: tenths(random, 1.1, 1.9),
      unit: 'mg CO2-C/g OM/day',
      laboratoryWord: 'stable',
    },
    { parameter: 'carbon-to-nitrogen', value: tenths(random, 13, 18), unit: ':1' },
    { parameter: 'ammonia-to-nitrate', value: tenths(random, 0.1, 0.4), unit: ':1' },
    { parameter: 'emergence', value: random.whole(91, 99), unit: '% of control' },
    { parameter: 'vigour', value: random.whole(91, 99), unit: '% of control' },
  ],
});

const germination = (random: Random): Panel => ({
  kind: 'germination',
  laboratory: 'Cress trays in the tool shed',
  results: [{ parameter: 'germination', value: random.whole(86, 98), unit: '% of control' }],
});

const pathogens = (random: Random): Panel => ({
  kind: 'pathogens',
  laboratory: LABORATORY,
  results: [
    { parameter: 'fecal-coliform', value: random.whole(18, 240), unit: 'MPN/g dry' },
    { parameter: 'salmonella', value: 2, unit: 'MPN/4 g dry', qualifier: '<' },
  ],
});

const metals = (random: Random): Panel => ({
  kind: 'metals',
  laboratory: LABORATORY,
  results: [
    ['arsenic', 3, 6],
    ['cadmium', 0.3, 0.8],
    ['copper', 38, 75],
    ['lead', 14, 40],
    ['nickel', 8, 17],
    ['zinc', 110, 190],
  ].map(([parameter, low, high]) => ({
    parameter,
    value: tenths(random, Number(low), Number(high)),
    unit: 'mg/kg dry',
  })),
});

/** The batch of the bad season of bags: much was screened out, and what stayed is told. */
const contaminants = (): Panel => ({
  kind: 'contaminants',
  laboratory: LABORATORY,
  results: [
    { parameter: 'contaminants-over-4-mm', value: 2.4, unit: '% dry mass' },
    { parameter: 'film-plastic-over-4-mm', value: 1.3, unit: '% dry mass' },
  ],
  outcome: 'information',
  finding: 'Before screening: scraps of bags throughout',
});
