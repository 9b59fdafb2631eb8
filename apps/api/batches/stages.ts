export const stages = ['building', 'active', 'curing', 'released', 'emptied', 'condemned', 'merged'] as const;
export type Stage = (typeof stages)[number];

/** Stages that are entered by hand. A batch begins as building, only a signature releases it, and a merge closes it. */
export const stagesByHand = ['active', 'curing', 'emptied', 'condemned'] as const;
export type StageByHand = (typeof stagesByHand)[number];
