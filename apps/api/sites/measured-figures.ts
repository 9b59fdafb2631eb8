import { bulkDensityKgM3FromBucket, materialFigures, moisturePercentFromDrying } from '#libs/materials';
import { gramsUnrounded, type Mass, volumeToMl } from '#libs/quantities';
import { invalid } from '../http/problems/catalogue.js';
import { DENSITY_MOST } from './material-figures.dto.js';
import type { EnteredMeasurement, NewMeasurementDto } from './measurements.dto.js';
import type { MeasuredFigures } from './measurements.records.js';

type Moisture = NonNullable<EnteredMeasurement['moisture']>;
type Density = NonNullable<EnteredMeasurement['bulkDensity']>;

/** The figures of a measurement, at least one, as they are kept. Refuses (422) what was weighed and cannot be. */
export function measuredFigures(dto: NewMeasurementDto): MeasuredFigures {
  const { nitrogenPercentDry = null, carbonPercentDry = null, moisture, bulkDensity } = dto;
  const figures = {
    ...{ nitrogenPercentDry, carbonPercentDry },
    carbonToNitrogen: dto.carbonToNitrogen ?? null,
    ashPercentDry: dto.ashPercentDry ?? null,
    moisturePercent: moisture ? moistureOf(moisture) : null,
    bulkDensityKgM3: bulkDensity ? densityOf(bulkDensity) : null,
  };
  if (materialFigures.some((figure) => figures[figure] !== null)) return figures;
  throw invalid('', 'must say at least one figure: N, C, C:N, ash, moisture or bulk density');
}

function moistureOf({ percent, wet, dry }: Moisture): number {
  if (percent !== undefined && !wet && !dry) return percent;
  if (percent !== undefined || !wet || !dry)
    throw invalid('/moisture', 'must be {percent}, or {wet, dry} of one sample');
  return rounded(
    possible('/moisture/dry', 'must not weigh more than it did wet', () =>
      moisturePercentFromDrying(grams(wet), grams(dry)),
    ),
    2,
  );
}

function densityOf({ kgM3, full, empty, volume }: Density): number {
  if (kgM3 !== undefined && !full && !empty && !volume) return kgM3;
  if (kgM3 !== undefined || !full || !empty || !volume)
    throw invalid('/bulkDensity', 'must be {kgM3}, or {full, empty, volume} of one bucket');
  const volumeMl = volumeToMl(volume);
  if (volumeMl === 0) throw invalid('/bulkDensity/volume', 'must be more than nothing');
  const density = rounded(
    possible('/bulkDensity/full', 'must weigh more than the bucket alone', () =>
      bulkDensityKgM3FromBucket(grams(full), grams(empty), volumeMl),
    ),
    1,
  );
  if (density > 0 && density <= DENSITY_MOST) return density;
  throw invalid('/bulkDensity', `comes to ${density} kg/m³, which no material has`);
}

/** Not rounded to grams: a sample for drying may weigh ten of them. */
const grams = (mass: Mass) => gramsUnrounded(mass);

/** More digits than a scale can show would only look like knowledge. */
const rounded = (value: number, decimals: number) => Number(value.toFixed(decimals));

function possible(pointer: string, detail: string, work: () => number): number {
  try {
    return work();
  } catch (error) {
    throw error instanceof RangeError ? invalid(pointer, detail) : error;
  }
}
