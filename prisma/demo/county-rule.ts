import type { Caller } from './client.js';
import { countyRuleCode } from './places.js';

const first = {
  title: 'Aerated piles of food scraps',
  purpose: 'pathogen-reduction',
  jurisdiction: 'County of Ember Ford',
  citation: 'Ember Ford County Code 14.3(b)',
  year: 2019,
  textStatus: 'verified',
  textSource: 'the county code, as the county office hands it out',
  threshold: { value: 131, unit: 'F' },
  days: 3,
  basis: 'elapsed',
  continuity: 'consecutive',
  minimumProbes: 2,
  methods: ['static-aerated', 'in-vessel'],
};

/** Five days instead of three, by probes in core and edge, and moist enough. */
const second = {
  ...first,
  citation: 'Ember Ford County Code 14.3(b), as amended',
  year: 2026,
  days: 5,
  minimumZones: 2,
  minimumDepth: { value: 12, unit: 'in' },
  longestGapHours: 26,
  leastMoisturePercent: 40,
};

/** The rule of an invented county, as its code first had it. */
export async function enterCountyRule(coordinator: Caller): Promise<void> {
  await coordinator.post('/process-rules', { ...first, code: countyRuleCode });
}

/** The county asks for more: batches that are recorded from now on go by the second version. */
export async function amendCountyRule(coordinator: Caller): Promise<void> {
  await coordinator.post(`/process-rules/${countyRuleCode}/versions`, second, { 'if-match': '"1"' });
}
