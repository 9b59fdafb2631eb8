import { batchMethods, type ProcessRule } from '../rule.js';
import { days, daysNote, probesNote, silent, unread } from './common.js';

/** Regulation (EU) 2019/1009, Annex II, component material category 3, compost: any one of four profiles. */
function profile(celsius: number, count: number): ProcessRule {
  return {
    ...silent,
    code: `eu-2019-1009-${celsius}`,
    title: `EU fertilising products, compost: ${celsius} °C for ${count} days`,
    jurisdiction: 'European Union',
    region: 'EU',
    citation: 'Regulation (EU) 2019/1009 Annex II, CMC 3',
    year: 2019,
    textStatus: 'from-memory',
    textSource: unread,
    thresholdDeciC: celsius * 10,
    duration: days(count),
    methods: batchMethods,
    notes: [
      'It is one of four profiles, of which any one is enough: 70 °C for 3 days, 65 °C for 5, 60 °C for 7 or 55 °C for 14.',
      'All parts of the batch have to reach it, so the coldest probe governs.',
      'From memory the material is regularly and thoroughly moved and turned, or aerated by force. No number of turns is coded.',
      ...[probesNote, daysNote(count)],
    ],
  };
}

export const eu70 = profile(70, 3);
export const eu65 = profile(65, 5);
export const eu60 = profile(60, 7);
export const eu55 = profile(55, 14);
