import type { Column } from '../../pdf/table.js';

/** A column of masses. */
export const kg = (title: string): Column => ({ title: `${title}, kg`, align: 'figure', width: 66 });

/** A column of times, as the clock of the record writes them. */
export const when = (title: string): Column => ({ title, width: 80 });
