import type { ProbeTerms } from './reading/terms.js';

/** Where no rule is named each probe stands for itself, and the coldest of a check governs. */
export const eachProbe = {
  governing: 'coldest',
  minimumProbes: 1,
  minimumZones: 1,
  minimumDepthMm: null,
} as const satisfies ProbeTerms;
