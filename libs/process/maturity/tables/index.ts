import type { Table } from '../table.js';
import { ccqcTables } from './ccqc.js';
import { contaminantLimits } from './contaminants.js';
import { metalLimits } from './metals.js';
import { pathogenLimits } from './pathogens.js';
import { carbonToNitrogen, characterLimits, plantLimits } from './plants.js';
import { co2Evolution, selfHeating, stabilityLimits } from './stability.js';

/** Every published table, in the order in which findings tell of it. */
export const maturityTables: readonly Table[] = [
  ...[selfHeating, co2Evolution, ...stabilityLimits],
  ...ccqcTables,
  ...[carbonToNitrogen, ...plantLimits],
  ...contaminantLimits,
  ...metalLimits,
  ...pathogenLimits,
  ...characterLimits,
];
