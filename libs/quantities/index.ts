export { type Area, areaToMm2, type AreaUnit, areaUnits, mm2ToUnit } from './area.js';
export * from './duration.js';
export * from './layer.js';
export { type Length, lengthToMm, type LengthUnit, lengthUnits, mmToUnit, umToUnit } from './length.js';
export * from './mass.js';
export * from './pile.js';
export * from './split.js';
export * from './temperature.js';
export {
  estimateMassG,
  litresOf,
  mlToUnit,
  type Volume,
  volumeToMl,
  type VolumeUnit,
  volumeUnits,
} from './volume.js';
