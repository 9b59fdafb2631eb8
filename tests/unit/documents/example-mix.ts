import type { MaterialValue, MixFigures } from '#libs/documents';

const lsu = 'LSU AgCenter 3838-D';
const fell = 'Fell Laboratory, FL-204';
const handbook = 'On-Farm Composting Handbook, table A.1';
const bucket = 'bucket test by the crew';

type Told = [typical: number, min: number | null, max: number | null, source: string];

const of = (
  basis: MaterialValue['basis'],
  [typical, min, max, source]: Told,
  verification: MaterialValue['verification'],
): MaterialValue => ({
  ...{ typical, min, max, basis, source, verification },
  measuredOn: source === fell ? '2024-04-11' : null,
});
const unknown = { carbonPercentDry: null, ashPercentDry: null };

/** Figures of an invented list, some measured at the yard, some known without a range, one not at all. */
export function mix(): MixFigures {
  return {
    massKg: 2656.415,
    ...{ weighedKg: 1693.465, estimatedKg: 962.95, unknownKg: 123.5, volumeL: null },
    figures: {
      carbonToNitrogen: { value: 28.4, range: { min: 21.7, max: 39.2 }, knownMassPercent: 91.5 },
      moisturePercent: { value: 57.9, range: { min: 49.6, max: 66.3 }, knownMassPercent: 100 },
      bulkDensityKgM3: { value: 413.8, range: { min: 335.1, max: 487.4 }, knownMassPercent: 95.4 },
      freeAirSpacePercent: { value: null, range: null, knownMassPercent: 0 },
    },
    greensToBrowns: { byMass: 1.17, byVolume: 0.58 },
    targets: [
      {
        ...{ figure: 'carbonToNitrogen', grade: 'permit', min: 24, max: 36, state: 'within', sure: false },
        source: 'permit WF-COMP-0117',
      },
      {
        figure: 'carbonToNitrogen',
        grade: 'reasonable',
        min: 20,
        max: 40,
        state: 'within',
        sure: true,
        source: lsu,
      },
      {
        figure: 'carbonToNitrogen',
        grade: 'preferred',
        min: 25,
        max: 30,
        state: 'within',
        sure: false,
        source: lsu,
      },
      {
        figure: 'moisturePercent',
        grade: 'preferred',
        min: 50,
        max: 55,
        state: 'above',
        sure: false,
        source: lsu,
      },
      {
        figure: 'bulkDensityKgM3',
        grade: 'preferred',
        min: null,
        max: 653,
        state: 'within',
        sure: true,
        source: lsu,
      },
      {
        ...{
          figure: 'freeAirSpacePercent',
          grade: 'preferred',
          min: 40,
          max: 60,
          state: 'unknown',
          sure: false,
        },
        source: 'BioCycle, December 2011',
      },
    ],
    missing: [{ material: 'Coffee grounds', figure: 'bulkDensityKgM3' }],
    withoutRange: [{ material: 'Coffee grounds', figure: 'moisturePercent' }],
    contradicted: [],
    materials: [
      {
        ...{ name: 'Food scraps', massKg: 1088.075, estimatedKg: 0 },
        figures: {
          nitrogenPercentDry: of('dry matter', [2.4, 1.9, 3.1, fell], 'local'),
          carbonPercentDry: of('dry matter', [46.2, null, null, fell], 'local'),
          carbonToNitrogen: of('dry matter', [15.3, 14, 17.5, handbook], 'mirror'),
          ashPercentDry: of('dry matter', [6.6, null, 9.5, fell], 'local'),
          moisturePercent: of('wet mass', [69, 62, 81, handbook], 'mirror'),
          bulkDensityKgM3: of('as it lies', [590, 475, 712, bucket], 'local'),
        },
      },
      {
        ...{ name: 'Leaves, dry', massKg: 423.95, estimatedKg: 123.5 },
        figures: {
          ...unknown,
          nitrogenPercentDry: of('dry matter', [0.9, 0.5, 1.3, handbook], 'mirror'),
          carbonToNitrogen: of('dry matter', [54, 40, 80, handbook], 'mirror'),
          moisturePercent: of('wet mass', [38, 33, 44, handbook], 'mirror'),
          bulkDensityKgM3: of('as it lies', [120, 105, 178, bucket], 'local'),
        },
      },
      {
        ...{ name: 'Coffee grounds', massKg: 123.5, estimatedKg: 0 },
        figures: {
          ...unknown,
          nitrogenPercentDry: of('dry matter', [2.1, null, null, 'no document'], 'from-memory'),
          carbonToNitrogen: of('dry matter', [20.5, null, null, 'no document'], 'from-memory'),
          moisturePercent: of('wet mass', [60.4, null, null, 'no document'], 'from-memory'),
          bulkDensityKgM3: null,
        },
      },
    ],
    cautions: [
      {
        text: 'Hay, straw, grass and manure may carry herbicides that outlast composting.',
        source: 'US Composting Council, Persistent herbicide FAQ',
        materials: ['Leaves, dry', 'Grass clippings'],
      },
      { text: 'Mix it as it comes in.', source: 'common practice', materials: [] },
    ],
    method: 'Each range is from the corners of the ranges of the materials, one at a time.',
    figuresAsOf: '2024-05-05T16:45:00-06:00',
  };
}
