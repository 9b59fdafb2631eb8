/**
 * Source: data of Lytras et al. 2024, Waste and Biomass Valorization, doi 10.1007/s12649-024-02697-9 (Apache-2.0): 88 batches
 * with their feeds, crude and net (screened) compost. The file states no unit; kilograms by context. Decimal marks are mixed.
 * It is read from outside the project. The totals checked are its column sums: feeds 43,624.1, crude 15,091.5, net 6,552.4.
 */
import { describe, expect, it } from 'vitest';
import { balanceOf, type BatchInput } from '#libs/accounting';
import { massToG } from '#libs/quantities';
import { hasOpenData, openData } from './open-data.js';

const file = 'island_batches_88_compost.csv';
const feeds = ['Biowaste Feed', 'Prunning Feed', 'Recycled Compost Feed', 'Sawdust Feed', 'Leaf Feed'];
const grams = (text: string | undefined): number =>
  massToG({ value: Number((text ?? '').replace(',', '.')), unit: 'kg' });

describe.runIf(hasOpenData(file))('88 measured batches', () => {
  // A suite that is passed over is still collected, so nothing is read before its tests run.
  const flowsOf = () =>
    openData(file).map((row) => ({
      inputs: feeds.map((label): BatchInput => ({
        kind: 'drop-off',
        label,
        massG: grams(row[label]),
        basis: 'scale',
      })),
      crudeG: grams(row['Compost Crude']),
      netG: grams(row['Compost Net']),
    }));

  const balances = () =>
    flowsOf().map(({ inputs, crudeG, netG }) =>
      balanceOf({
        inputs,
        outputs: [
          { kind: 'compost', label: 'net', massG: netG },
          { kind: 'overs', label: 'crude less net', massG: crudeG - netG },
        ],
        stillHereG: 0,
      }),
    );

  it('balance, every one of them, and lose 28,532.6 kg between them', () => {
    expect(balances()).toHaveLength(88);
    let lossG = 0;
    for (const balance of balances()) {
      if (!balance.ok) throw new Error(`excess of ${balance.excessG} g`);
      lossG += balance.processLossG!;
    }
    expect(lossG).toBe(43_624_100 - 15_091_500);
  });

  it('yield 15.0 % of the feed overall, 3.42 % to 31.89 % batch by batch, 14.22 % in the middle', () => {
    const flows = flowsOf();
    const whole = balanceOf({
      inputs: flows.flatMap(({ inputs }) => inputs),
      outputs: flows.map(({ netG }) => ({ kind: 'compost', label: 'net', massG: netG })),
      stillHereG: null,
    });
    expect(whole).toMatchObject({ ok: true, inputG: 43_624_100, outputG: 6_552_400, processLossG: null });
    expect(whole.ok && whole.yieldByMass).toBeCloseTo(0.1502, 4);
    const yields = balances()
      .map((balance) => (balance.ok ? balance.yieldByMass! : Number.NaN))
      .sort((a, b) => a - b);
    expect(yields[0]).toBeCloseTo(0.0342, 4);
    expect((yields[43]! + yields[44]!) / 2).toBeCloseTo(0.1422, 4);
    expect(yields[87]).toBeCloseTo(0.3189, 4);
  });
});
