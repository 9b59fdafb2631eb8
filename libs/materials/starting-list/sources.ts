import { table } from './figure.js';

/** Tables that several materials draw on. "from memory" is part of the name, so that no row can lose it. */
export const alberta = table(
  'Alberta Agriculture, Manure Composting Manual (Agdex 400/27-1), Table 3, on a third-party copy that does not name it',
  'mirror',
);
export const golueke = table('Golueke (1972) in Polprasert, Organic Waste Recycling, Table 3.1', 'verified');
export const nraes = table('NRAES-54 On-Farm Composting Handbook, Appendix A, from memory', 'from-memory');
export const cornellSheet = table('A modified copy of the Cornell (T. Richard) mix spreadsheet', 'mirror');
export const energyStar = table(
  'ENERGY STAR Portfolio Manager help (US EPA volume-to-weight factors, 2016)',
  'verified',
);
export const massDep = table('MassDEP compost site report', 'verified');
