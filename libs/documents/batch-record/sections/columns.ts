import type { Column } from '../../pdf/table.js';

/** A column of masses. */
export const kg = (title: string): Column => ({ title: `${title}, kg`, align: 'figure', width: 66 });

/** What was recorded, and when it held: an instant, or the two ends of a span. */
export const EVIDENCE: readonly Column[] = [
  { title: 'When', width: 88 },
  { title: 'Kind', width: 78 },
  { title: 'What was recorded', share: 1 },
];

/** A column of times, as the clock of the record writes them. */
export const when = (title: string): Column => ({ title, width: 76 });
