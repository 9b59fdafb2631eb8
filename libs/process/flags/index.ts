export { disagreementCautions, besideMs, type ReadingBeside, type LoggerBeside } from './disagreement.js';
export { driftCautions } from './drift.js';
export type { LoggerHours, ProbeHour } from './hours.js';
export { implausibleCautions, mayBeFire } from './implausible.js';
export { overdueCautions, type Use, type UsedInstrument } from './overdue.js';
export { setAsideCautions, type SetAside } from './set-aside.js';
export { stuckCautions } from './stuck.js';
export { verificationDue, type Verification, type VerificationDue } from './verification.js';
