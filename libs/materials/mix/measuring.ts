/**
 * Moisture in per cent of the wet mass, from a sample weighed before and after drying: (wet − dry) / wet × 100.
 * Source: Cornell Composting, "Measuring Moisture Content". Throws RangeError unless wet > 0 and 0 ≤ dry ≤ wet.
 */
export function moisturePercentFromDrying(wetG: number, dryG: number): number {
  if (!(wetG > 0 && dryG >= 0 && dryG <= wetG)) throw new RangeError(`cannot dry ${wetG} g to ${dryG} g`);
  return ((wetG - dryG) / wetG) * 100;
}

/**
 * Bulk density from a bucket weighed full and empty: the bucket test, as told by WSU Puyallup, "Calculating Compost Bulk
 * Density". Its volume is to the line the bucket was filled to, measured with water: the brim often holds more than its
 * name says. Throws RangeError unless full > empty ≥ 0 and the volume is above 0.
 */
export function bulkDensityKgM3FromBucket(fullG: number, emptyG: number, volumeMl: number): number {
  if (!(emptyG >= 0 && fullG > emptyG && volumeMl > 0 && Number.isFinite(fullG)))
    throw new RangeError(`a bucket of ${volumeMl} mL cannot weigh ${emptyG} g empty and ${fullG} g full`);
  return ((fullG - emptyG) / volumeMl) * 1000;
}
