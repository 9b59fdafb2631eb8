import type { Method } from '#libs/documents';

/** How the figures of every record are made, and the factors used. What a rule leaves open stands with its verdict. */
export const METHODS: readonly Method[] = [
  {
    title: 'Mass and volume',
    text:
      'Kept as whole grams and millilitres, rounded half to even once, when entered. 1 lb = 453.59237 g, ' +
      '1 short ton = 2,000 lb, 1 US gal = 3.785411784 L, 1 yd³ = 764.554857984 L, all exact. What was typed is kept beside.',
    source: 'NIST Handbook 44, Appendix C',
  },
  {
    title: 'Estimated mass',
    text:
      'What was taken by volume has its mass from the bulk density of its material. It varies with moisture and ' +
      'filling, so every total says how much of it was weighed and how much estimated. 1 mL of water counts as 1 g.',
    source: 'the density sources named with the materials; water: common practice',
  },
  {
    title: 'Shares',
    text:
      'A drop-off that was split over batches counts here with the grams put into this one. What was pulled from it ' +
      'before falls to its parts by mass, by the largest remainder, so that parts always add up to the whole. So do lots ' +
      'that were weighed with their whole haul: each has its share by the mass that was estimated from its volume.',
    source: 'own rule',
  },
  {
    title: 'Merged batches',
    text:
      'All that lies there of a batch goes into another. Where nobody weighed it, it is what had gone in less what had come ' +
      'out of it, which leaves out what was lost to the air. The other batch inherits a verdict only where every batch and ' +
      'all the material in it had met the very rule; its cure is counted from the merge, and earlier samples are of another mix.',
    source: 'own rule',
  },
  {
    title: 'The mix',
    text:
      'Carbon and nitrogen are added up as masses and divided once: C:N = Σ Q·C·(100−M) / Σ Q·N·(100−M), moisture = ' +
      'Σ Q·M / Σ Q, with wet mass Q and moisture M. Minerals and charcoal add dry matter, but neither carbon nor nitrogen. ' +
      'The volume is the sum of the volumes, water left out: a real pile settles. A figure that is not known is left out, ' +
      'and what remains is told.',
    source: 'Cornell Composting, Moisture and Carbon/Nitrogen Ratio Calculation; the volume: own rule',
  },
  {
    title: 'Free air space',
    text:
      'What of the volume is left by water, organic matter and ash, at 1,000, 1,600 and 2,500 kg/m³. The last two are from ' +
      'memory, so this figure is a guide.',
    source: 'after Richard et al. (2002, 2004), from memory, not checked',
  },
  {
    title: 'Time and temperature',
    text:
      'A check is governed by the coldest probe that counts, or by the mean where the rule says so. Between two checks ' +
      'time is credited only if both are at or above the threshold and no further apart than the longest gap; no ' +
      'crossing is interpolated. Credited figures are rounded down.',
    source:
      'the rule named with the verdict; 36 hours as longest gap, where rule and permit are silent, is our own',
  },
  {
    title: 'Mass balance',
    text:
      'What went in = compost + overs + residue + samples + still there + process loss. Process loss, water and carbon ' +
      'gone as vapour and gas and any unseen loss, is the only derived term.',
    source: 'conservation of mass',
  },
];
