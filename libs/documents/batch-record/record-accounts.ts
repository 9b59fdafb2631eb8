/** A batch that was put into this one (`in`), or the one that all of this was put into (`on`). */
export interface Merge {
  occurredAt: string;
  direction: 'in' | 'on';
  /** Code of the other batch. */
  batch: string;
  massKg: number;
  /** `records`: nobody weighed it, so it is what had gone in less what had come out. */
  basis: 'scale' | 'volume' | 'records';
  /** When what came in had met the process rule of this batch; null where it had not, or no rule is named. */
  metAt: string | null;
  note: string | null;
}

/** How big the batch was found to be. Of a cone the width is its diameter. */
export interface PileMeasurement {
  occurredAt: string;
  shape: 'bin' | 'triangular-windrow' | 'rounded-windrow' | 'flat-topped-windrow' | 'cone';
  lengthM: number | null;
  widthM: number;
  topWidthM: number | null;
  heightM: number;
  volumeL: number;
  /** Where a bucket of it was weighed. */
  densityKgM3: number | null;
  massKg: number | null;
  note: string | null;
  by: string;
}

/** While it stood, nothing of the batch was released, handed out or put into another. */
export interface Hold {
  occurredAt: string;
  reason: string;
  liftedAt: string | null;
  liftReason: string | null;
}
