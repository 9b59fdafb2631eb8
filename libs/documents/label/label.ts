import type { LabelUse } from './use.js';

/** What goes with compost that leaves: everything its label prints. Figures are already rounded as they are to be read. */
export interface CompostLabel {
  programme: string;
  site: string;
  batch: string;
  /** Of the batch and this hand-out, such as "QS-26-004/3". */
  code: string;
  /** Local day on which it left. */
  on: string;
  massKg: number;
  volumeL: number | null;
  /** Whether the mass was weighed or worked out from the volume. */
  weighed: boolean;
  use: LabelUse;
  /** The page of the batch that anybody may read; null where there is none. */
  recordUrl: string | null;
}
