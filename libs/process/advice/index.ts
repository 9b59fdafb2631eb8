export { adviceOf, type Advice, type AdvisedAction, type LikelyCause } from './advice.js';
export type { AdviceFacts, AdviceMix, BatchStage, MixAsked } from './facts.js';
export { urgencies, type Urgency } from './finding.js';
export { loggerVisits } from './logger-visits.js';
export { type PracticeSource, sourceStatuses, type SourceStatus } from './sources.js';
