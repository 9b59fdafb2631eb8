import type { Hold, Merge, PileMeasurement } from './record-accounts.js';
import { amount, instant, objectOf, oneOf, orNull, text } from './schema-words.js';

export const merge = objectOf<Merge>({
  occurredAt: instant,
  direction: oneOf('in', 'on'),
  batch: text,
  massKg: amount,
  basis: oneOf('scale', 'volume', 'records'),
  metAt: orNull(instant),
  note: orNull(text),
});

export const pile = objectOf<PileMeasurement>({
  occurredAt: instant,
  shape: oneOf('bin', 'triangular-windrow', 'rounded-windrow', 'flat-topped-windrow', 'cone'),
  lengthM: orNull(amount),
  widthM: amount,
  topWidthM: orNull(amount),
  heightM: amount,
  volumeL: amount,
  densityKgM3: orNull(amount),
  massKg: orNull(amount),
  note: orNull(text),
  by: text,
});

export const hold = objectOf<Hold>({
  occurredAt: instant,
  reason: text,
  liftedAt: orNull(instant),
  liftReason: orNull(text),
});
