import { v7 } from 'uuid';
import { type GoodCall, of } from './good-calls.js';
import type { GoodWorld } from './good-world.js';
import { PASSWORD } from './programme.js';

const shortTons = (value: number) => ({ value, unit: 'short-ton' });

/** Good calls of what is issued to jurisdictions. */
export function reportCalls({ programme, tokens, report }: GoodWorld): GoodCall[] {
  const { municipalReader } = programme.people;
  const [coordinator, reader] = [of(tokens.coordinator), of(municipalReader.token)];
  const { thistleFord } = programme.jurisdictions;
  const { id } = report;
  const asked = {
    ...{ residueTo: 'site', greenhouse: { set: 'us-epa-warm-16' } },
    rate: {
      ...{ formula: 'us-tx-reduction', disposed: shortTons(4_500), source: 'Waage der Gemeinde' },
      ...{ exported: shortTons(20), imported: shortTons(10), sourceReduced: shortTons(1) },
      otherRecycled: shortTons(700),
    },
  };
  const given = { ...asked, password: PASSWORD };
  const period = { jurisdictionId: thistleFord.id, from: '2025-01-01', to: '2025-04-01' };
  const draft = { ...period, residueTo: 'traced', greenhouse: 'ipcc-2006-ar6' };
  return [
    ...['json', 'pdf'].map((type) => ({
      ...coordinator.get(`/diversion-reports/draft.${type}`),
      query: draft,
    })),
    ...['json', 'pdf'].map((type) => ({
      ...coordinator.post(`/diversion-reports/draft.${type}`, {}, { ...period, ...asked }),
      toldElsewhere: ['/yearOf'],
    })),
    {
      ...coordinator.post('/diversion-reports', {}, { id: v7(), ...period, ...given }),
      toldElsewhere: ['/yearOf'],
    },
    coordinator.post(
      '/diversion-reports/:id/versions',
      { id },
      { id: v7(), reason: 'Auf Wunsch der Gemeinde', ...given },
    ),
    { ...reader.get('/diversion-reports'), query: { jurisdictionId: programme.jurisdictions.larkHollow.id } },
    reader.get('/diversion-reports/:id', { id }),
    ...['.json', '.csv', '.pdf', '/rows.csv'].map((file) => ({
      ...reader.get(`/diversion-reports/:id${file}`, { id }),
      query: { version: '1' },
    })),
  ];
}
