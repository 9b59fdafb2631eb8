/** Publications that several rows draw on, named once. "from memory" stays part of the name, so that no row can lose it. */
export const alberta =
  'Alberta Agriculture, Manure Composting Manual (Agdex 400/27-1), Table 3, read on a third-party copy that does not name the manual';
export const golueke = 'Golueke (1972) in Polprasert, Organic Waste Recycling, Table 3.1';
export const nraes = 'NRAES-54 On-Farm Composting Handbook, Appendix A, from memory';
export const massDep = 'MassDEP compost site report';
