import type { Facility } from '#libs/documents';

/** Every place, organisation and person here is invented. */

const seals = [
  '5bd0f6bb5a5a4f3f3f6a6b51d0b0c2f3b6fd0c1e0a1f4f1c7e3f1a2b3c4d5e6f',
  'c2a7c1d86f0a2bf1c1e3a0b7d1f84fd5b7f9e7c35b1f46a8fb0d2e6a3a9b8c7d',
] as const;

const alder: Facility = {
  code: 'AL1',
  name: 'Alder Lane hub and yard',
  permits: [
    { reference: 'LO-COMP-0042', validFrom: '2023-03-01', validTo: '2026-02-28' },
    { reference: 'LO-COMP-0057', validFrom: '2026-03-01', validTo: null },
  ],
  receivedByMaterial: [
    { material: 'food-scraps', name: 'Food scraps, households', massKg: 81_244.19, estimatedKg: 0 },
    { material: 'leaves-dry', name: 'Leaves, dry', massKg: 40_103.5, estimatedKg: 40_103.5 },
  ],
  receivedByOrigin: [
    { jurisdiction: 'Town of Lower Ottermere', massKg: 101_006.44 },
    { jurisdiction: 'Village of Upper Ottermere', massKg: 20_341.25 },
  ],
  bulking: [{ material: 'wood-chips', name: 'Wood chips', massKg: 30_118.75, estimatedKg: 28_004.5 }],
  waterKg: 9_300,
  processed: { batches: 21, massKg: 148_220.6 },
  onSite: [
    { stage: 'waiting', massKg: 640.2, volumeL: 1_402.5 },
    { stage: 'building', massKg: 4_120, volumeL: 9_100 },
    { stage: 'active', massKg: 15_230.4, volumeL: null },
    { stage: 'curing', massKg: 18_006.8, volumeL: 33_104 },
    { stage: 'overs', massKg: 2_204.1, volumeL: null },
    { stage: 'finished', massKg: 3_318.9, volumeL: 6_020.5 },
  ],
  produced: { batches: 17, massKg: 44_871.3, volumeL: 80_412.5 },
  distributed: [
    { use: 'vegetable-beds', recipient: 'community-garden', massKg: 20_118.4, volumeL: 36_002.5, count: 64 },
    { use: 'trees', recipient: 'public-works', massKg: 18_402.25, volumeL: null, count: 9 },
  ],
  residue: [
    { wentTo: 'landfill', massKg: 2_108.6 },
    { wentTo: 'recycling', massKg: 140.25 },
  ],
  releases: [
    {
      batch: 'AL-2025-031',
      releasedOn: '2025-11-20',
      rule: 'us-503-pfrp-windrow',
      status: 'met',
      hotHours: 402.5,
      turns: 7,
      seal: seals[0],
    },
    {
      batch: 'AL-2026-004',
      releasedOn: '2026-05-08',
      rule: null,
      status: null,
      hotHours: null,
      turns: null,
      seal: seals[1],
    },
  ],
  samples: [
    { kind: 'fecal-coliform', passed: 16, failed: 1, information: 0 },
    { kind: 'maturity', passed: 12, failed: 0, information: 5 },
  ],
  complaints: [
    {
      on: '2025-08-19',
      kind: 'odour',
      about: 'Sour smell at the fence on two evenings; wind from the west.',
      done: ['Bay 3 turned and bulked with chips the next morning.', 'Called back: no smell since.'],
    },
  ],
};

/** A yard that was only just begun. */
const granary: Facility = {
  code: 'GR6',
  name: 'Granary Lane hub and yard',
  permits: [],
  receivedByMaterial: [],
  receivedByOrigin: [],
  bulking: [],
  waterKg: 0,
  processed: { batches: 0, massKg: 0 },
  onSite: [],
  produced: { batches: 0, massKg: 0, volumeL: null },
  distributed: [],
  residue: [],
  releases: [],
  samples: [],
  complaints: [],
};

export const yards: Facility[] = [alder, { ...alder, code: 'DO4', name: 'Dovecote Lane yard' }, granary];
