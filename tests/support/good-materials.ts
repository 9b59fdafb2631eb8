import { v7 } from 'uuid';
import { type GoodCall, of } from './good-calls.js';
import { type GoodWorld, kg, litres } from './good-world.js';

/** Good calls of materials, and of what is measured of them. */
export const materialCalls = (world: GoodWorld): GoodCall[] => [
  ...listCalls(world),
  ...measurementCalls(world),
];

function listCalls({ tokens }: GoodWorld): GoodCall[] {
  const [volunteer, coordinator] = [of(tokens.volunteer), of(tokens.coordinator)];
  const figure = (typical: number, min: number | null = null, max: number | null = null) => ({
    ...{ typical, min, max, source: 'a bucket of our own, weighed' },
  });
  const figures = {
    ...{ nitrogenPercentDry: figure(2, 1.5, 2.5), carbonPercentDry: figure(40) },
    carbonToNitrogen: figure(20),
    ...{ ashPercentDry: figure(6), moisturePercent: figure(60, 50, 70), bulkDensityKgM3: figure(400) },
    ...{ caution: 'Keep it covered', class: 'nitrogen', kind: 'organic', traits: ['herbicide-risk'] },
    wasteCategory: 'food',
  };
  return [
    volunteer.get('/materials'),
    volunteer.get('/materials/:code', { code: 'leaves' }),
    coordinator.post('/materials', {}, { code: 'apple-pomace', name: 'Apple pomace', ...figures }),
    coordinator.patch(
      '/materials/:code',
      { code: 'wood-chips' },
      { name: 'Chips', ...figures, retired: false },
    ),
  ];
}

function measurementCalls({ yard, tokens, measurement }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const sample = () => ({
    ...{ id: v7(), occurredAt: '2026-03-05T16:30:00Z', siteId: yard.yard.id, material: 'leaves' },
    ...{ by: 'Labor Grünau', reference: 'FL-204', note: 'Grün und feucht' },
  });
  const weighed = {
    moisture: { wet: kg(1), dry: kg(0.4) },
    bulkDensity: { full: kg(10), empty: kg(1), volume: litres(20) },
  };
  const found = {
    ...{ nitrogenPercentDry: 1, carbonPercentDry: 48, carbonToNitrogen: 48, ashPercentDry: 8 },
    ...{ moisture: { percent: 40 }, bulkDensity: { kgM3: 90 } },
  };
  return [
    { ...operator.get('/material-measurements'), query: { siteId: yard.yard.id, material: 'leaves' } },
    operator.get('/material-measurements/:id', { id: measurement.id }),
    manager.post('/material-measurements', {}, { ...sample(), ...weighed }),
    manager.post('/material-measurements', {}, { ...sample(), ...found }),
    manager.post('/material-measurements/:id/void', { id: measurement.id }, { reason: 'Entered twice' }),
  ];
}
