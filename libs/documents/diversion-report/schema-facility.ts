import { amount, count, day, listOf, objectOf, oneOf, orNull, text } from '../batch-record/schema-words.js';
import type { Facility } from './facility.js';

type In<K extends keyof Facility> = Facility[K] extends readonly (infer One)[] ? One : Facility[K];

const STAGES = [
  'waiting',
  'building',
  'active',
  'curing',
  'condemned',
  'overs',
  'finished',
] as const satisfies readonly In<'onSite'>['stage'][];

const material = objectOf<In<'bulking'>>({ material: text, name: text, massKg: amount, estimatedKg: amount });

export const facility = objectOf<Facility>({
  code: text,
  name: text,
  permits: listOf(objectOf<In<'permits'>>({ reference: text, validFrom: day, validTo: orNull(day) })),
  receivedByMaterial: listOf(material),
  receivedByOrigin: listOf(objectOf<In<'receivedByOrigin'>>({ jurisdiction: text, massKg: amount })),
  bulking: listOf(material),
  waterKg: amount,
  processed: objectOf<In<'processed'>>({ batches: count, massKg: amount }),
  onSite: listOf(
    objectOf<In<'onSite'>>({ stage: oneOf(...STAGES), massKg: amount, volumeL: orNull(amount) }),
  ),
  produced: objectOf<In<'produced'>>({ batches: count, massKg: amount, volumeL: orNull(amount) }),
  distributed: listOf(
    objectOf<In<'distributed'>>({
      use: text,
      recipient: text,
      massKg: amount,
      volumeL: orNull(amount),
      count,
    }),
  ),
  residue: listOf(objectOf<In<'residue'>>({ wentTo: text, massKg: amount })),
  releases: listOf(
    objectOf<In<'releases'>>({
      batch: text,
      releasedOn: day,
      rule: orNull(text),
      status: orNull(text),
      hotHours: orNull(amount),
      turns: orNull(count),
      seal: text,
    }),
  ),
  samples: listOf(objectOf<In<'samples'>>({ kind: text, passed: count, failed: count, information: count })),
  complaints: listOf(objectOf<In<'complaints'>>({ on: text, kind: text, about: text, done: listOf(text) })),
});
