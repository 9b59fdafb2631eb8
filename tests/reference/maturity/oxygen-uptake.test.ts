/**
 * Oxygen uptake: Regulation (EU) 2019/1009 Annex II CMC 3, 25 mmol O2 per kg organic matter per hour, or Rottegrad III;
 * CCME 2005, 400 mg O2 per kg volatile solids per hour, or a rise below 8 °C. All from memory. A mmol of O2 is 32 mg,
 * so that 25 mmol are 800 mg.
 */
import { describe, expect, it } from 'vitest';
import { type Edge, result, under } from './read.js';

const edges: Edge[] = [
  ...[
    { unit: 'mmol O2/kg OM/h', met: 25, unmet: 25.01 },
    { unit: 'mg O2/kg OM/h', met: 800, unmet: 800.1 },
    { unit: 'mg O2/g OM/h', met: 0.8, unmet: 0.8001 },
  ].map((edge) => ({ table: 'eu-2019-1009-oxygen', parameter: 'oxygen-uptake', ...edge })),
  ...[
    { unit: 'mg O2/kg VS/h', met: 400, unmet: 400.1 },
    { unit: 'mmol O2/kg OM/h', met: 12.5, unmet: 12.51 },
  ].map((edge) => ({ table: 'ccme-2005-oxygen', parameter: 'oxygen-uptake', ...edge })),
  ...[
    { table: 'eu-2019-1009-heat', met: 29.9, unmet: 30 },
    { table: 'ccme-2005-heat', met: 7.9, unmet: 8 },
  ].map((edge) => ({ parameter: 'self-heating', unit: 'C above ambient', ...edge })),
];

describe('the limits of oxygen uptake and of heat', () => {
  it.each(edges)(
    '$table is met at $met $unit, and not at $unmet',
    ({ table, parameter, unit, met, unmet }) => {
      expect(under(table, result(parameter, met, unit)).state).toBe('met');
      expect(under(table, result(parameter, unmet, unit)).state).toBe('unmet');
    },
  );
});
