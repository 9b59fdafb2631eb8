import {
  type ByDepositor,
  type DivertedByMaterial,
  type DivertedByMonth,
  type DivertedBySite,
  type DivertedMasses,
  type DiversionFigures,
  type FactorUsed,
  type GreenhouseEstimate,
  type GreenhouseLine,
  type InStock,
  residueConventions,
  wasteCategories,
  type WentTo,
} from '#libs/accounting';
import {
  amount,
  count,
  day,
  figure,
  listOf,
  objectOf,
  oneOf,
  orNull,
  text,
  type Schema,
} from '../batch-record/schema-words.js';

const masses: Record<keyof DivertedMasses, Schema> = {
  lots: count,
  acceptedKg: amount,
  weighedKg: amount,
  sharedKg: amount,
  estimatedKg: amount,
  pulledKg: amount,
  residueKg: amount,
  landfilledKg: amount,
  // below zero where more residue left for landfill in the period than material came
  divertedKg: figure,
  elsewhereKg: amount,
};

const wentTo = listOf(objectOf<WentTo>({ wentTo: text, massKg: amount }));

const inStock = objectOf<InStock>({
  on: day,
  waitingKg: amount,
  onTheRoadKg: amount,
  buildingKg: amount,
  activeKg: amount,
  curingKg: amount,
});

export const figures = objectOf<DiversionFigures>({
  from: day,
  to: day,
  residueTo: oneOf(...residueConventions),
  total: objectOf<DivertedMasses>(masses),
  byMaterial: listOf(objectOf<DivertedByMaterial>({ material: text, name: text, ...masses })),
  bySite: listOf(objectOf<DivertedBySite>({ code: text, name: text, ...masses })),
  byMonth: listOf(
    objectOf<DivertedByMonth>({ month: { type: 'string', pattern: '^\\d{4}-(0[1-9]|1[0-2])$' }, ...masses }),
  ),
  pulled: wentTo,
  residue: wentTo,
  refused: objectOf<DiversionFigures['refused']>({ loads: count, unweighed: count, massKg: amount }),
  visits: count,
  byDepositor: listOf(objectOf<ByDepositor>({ depositor: text, visits: count, acceptedKg: amount })),
  stockAtStart: inStock,
  stockAtEnd: inStock,
});

export const factorUsed = objectOf<FactorUsed>({ name: text, value: figure, unit: text, source: text });

const estimated = {
  massKg: amount,
  compostingTCo2e: orNull(figure),
  landfillTCo2e: orNull(figure),
  differenceTCo2e: orNull(figure),
};

export const greenhouse = objectOf<GreenhouseEstimate>({
  set: text,
  title: text,
  version: text,
  source: text,
  lines: listOf(
    objectOf<GreenhouseLine>({ category: oneOf(...wasteCategories), materials: listOf(text), ...estimated }),
  ),
  total: objectOf<GreenhouseEstimate['total']>(estimated),
  unknownKg: amount,
  factors: listOf(factorUsed),
  notes: listOf(text),
});
