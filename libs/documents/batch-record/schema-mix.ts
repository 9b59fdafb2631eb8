import {
  MATERIAL_BASES,
  MATERIAL_FIGURES,
  type MaterialGap,
  type MaterialValue,
  MIX_FIGURES,
  type MixCaution,
  type MixFigures,
  type MixMaterial,
  type MixTarget,
  type MixValue,
  VERIFICATIONS,
} from './record-mix.js';
import {
  amount,
  day,
  flag,
  instant,
  listOf,
  objectOf,
  oneOf,
  orNull,
  percent,
  text,
  type Schema,
} from './schema-words.js';

export const mixFigure = oneOf(...MIX_FIGURES);

const ofEach = (figures: readonly string[], schema: Schema): Schema =>
  objectOf<Record<string, unknown>>(Object.fromEntries(figures.map((name) => [name, schema])));

const value = objectOf<MixValue>({
  value: orNull(amount),
  range: orNull(objectOf<NonNullable<MixValue['range']>>({ min: amount, max: orNull(amount) })),
  knownMassPercent: percent,
});

const target = objectOf<MixTarget>({
  figure: mixFigure,
  grade: text,
  min: orNull(amount),
  max: orNull(amount),
  state: oneOf('within', 'below', 'above', 'unknown'),
  sure: orNull(flag),
  source: text,
});

const gap = objectOf<MaterialGap>({ material: text, figure: text });

const materialValue = objectOf<MaterialValue>({
  typical: amount,
  min: orNull(amount),
  max: orNull(amount),
  basis: oneOf(...MATERIAL_BASES),
  source: text,
  verification: oneOf(...VERIFICATIONS),
  measuredOn: orNull(day),
});

const material = objectOf<MixMaterial>({
  name: text,
  massKg: amount,
  estimatedKg: orNull(amount),
  figures: ofEach(MATERIAL_FIGURES, orNull(materialValue)),
});

export const mix = objectOf<MixFigures>({
  massKg: amount,
  weighedKg: orNull(amount),
  estimatedKg: orNull(amount),
  unknownKg: orNull(amount),
  volumeL: orNull(amount),
  figures: ofEach(MIX_FIGURES, value),
  greensToBrowns: objectOf<MixFigures['greensToBrowns']>({
    byMass: orNull(amount),
    byVolume: orNull(amount),
  }),
  targets: listOf(target),
  missing: listOf(gap),
  withoutRange: listOf(gap),
  contradicted: listOf(objectOf<MixFigures['contradicted'][number]>({ material: text, detail: text })),
  materials: listOf(material),
  cautions: listOf(objectOf<MixCaution>({ text, source: text, materials: listOf(text) })),
  method: orNull(text),
  figuresAsOf: orNull(instant),
});
