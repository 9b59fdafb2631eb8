import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { balanceOf, type BatchFlows, inputKinds, massBases, outputKinds } from '#libs/accounting';

const massG = fc.integer({ min: 0, max: 50_000_000 });
const inputs = fc.array(
  fc.record({
    kind: fc.constantFrom(...inputKinds),
    label: fc.string(),
    massG,
    basis: fc.constantFrom(...massBases),
  }),
  { maxLength: 30 },
);
const outputs = fc.array(fc.record({ kind: fc.constantFrom(...outputKinds), label: fc.string(), massG }), {
  maxLength: 12,
});

const batch: BatchFlows = {
  inputs: [
    { kind: 'drop-off', label: 'food-scraps', massG: 612_345, basis: 'scale' },
    { kind: 'drop-off', label: 'leaves', massG: 150_000, basis: 'volume' },
    { kind: 'amendment', label: 'water', massG: 200_000, basis: 'volume' },
    { kind: 'overs-in', label: 'overs of an earlier batch', massG: 37_655, basis: 'scale' },
  ],
  outputs: [
    { kind: 'compost', label: 'screened', massG: 250_000 },
    { kind: 'overs', label: 'oversize', massG: 60_000 },
    { kind: 'residue', label: 'film-plastic', massG: 1_250 },
    { kind: 'sample', label: 'maturity', massG: 750 },
  ],
  stillHereG: 88_000,
};

describe('the balance of a batch', () => {
  it('leaves the process loss as the only derived term', () => {
    expect(balanceOf(batch)).toEqual({
      ok: true,
      inputG: 1_000_000,
      outputG: 312_000,
      stillHereG: 88_000,
      processLossG: 600_000,
      weighedG: 650_000,
      estimatedG: 350_000,
      weighedShare: 0.65,
      estimatedShare: 0.35,
      yieldByMass: 0.25,
    });
  });

  it('knows no loss while what is still there is unknown', () => {
    expect(balanceOf({ ...batch, stillHereG: null })).toMatchObject({
      ok: true,
      stillHereG: null,
      processLossG: null,
    });
  });

  it('knows no yield before any compost came out, unless nothing is left that it could come of', () => {
    const outputs = batch.outputs.filter(({ kind }) => kind !== 'compost');
    const without = (stillHereG: number | null) => balanceOf({ ...batch, outputs, stillHereG });
    expect(without(null)).toMatchObject({ ok: true, yieldByMass: null });
    expect(without(88_000)).toMatchObject({ ok: true, yieldByMass: null });
    expect(without(0)).toMatchObject({ ok: true, yieldByMass: 0 });
    expect(balanceOf({ ...batch, stillHereG: null })).toMatchObject({ ok: true, yieldByMass: 0.25 });
  });

  it('is an error to resolve when more is out or still there than went in', () => {
    const over = [...batch.outputs, { kind: 'compost' as const, label: 'mistyped', massG: 600_001 }];
    expect(balanceOf({ ...batch, outputs: over })).toEqual({
      ok: false,
      inputG: 1_000_000,
      outputG: 912_001,
      stillHereG: 88_000,
      excessG: 1,
    });
    expect(balanceOf({ ...batch, stillHereG: 688_000 })).toMatchObject({ ok: true, processLossG: 0 });
    expect(balanceOf({ ...batch, stillHereG: 688_001 })).toMatchObject({ ok: false, excessG: 1 });
  });

  it('finds an excess even while what is still there is unknown', () => {
    const outputs = [{ kind: 'compost' as const, label: 'screened', massG: 1_000_005 }];
    expect(balanceOf({ ...batch, outputs, stillHereG: null })).toMatchObject({ ok: false, excessG: 5 });
  });

  it('of nothing is nothing', () => {
    expect(balanceOf({ inputs: [], outputs: [], stillHereG: 0 })).toMatchObject({
      ok: true,
      processLossG: 0,
      weighedShare: null,
      estimatedShare: null,
      yieldByMass: null,
    });
  });

  it('conserves mass to the gram, or names the excess', () => {
    fc.assert(
      fc.property(inputs, outputs, massG, (ins, outs, stillHereG) => {
        const result = balanceOf({ inputs: ins, outputs: outs, stillHereG });
        const inG = ins.reduce((sum, flow) => sum + flow.massG, 0);
        const outG = outs.reduce((sum, flow) => sum + flow.massG, 0);
        if (result.ok) {
          expect(inG).toBe(outG + stillHereG + result.processLossG!);
          expect(result.processLossG).toBeGreaterThanOrEqual(0);
          expect(result.weighedG + result.estimatedG).toBe(inG);
        } else {
          expect(outG + stillHereG).toBe(inG + result.excessG);
          expect(result.excessG).toBeGreaterThan(0);
        }
      }),
    );
  });

  it('refuses masses that are not whole grams of zero or more', () => {
    for (const bad of [-1, 0.5, Number.NaN]) {
      expect(() => balanceOf({ ...batch, stillHereG: bad })).toThrow(RangeError);
      expect(() => balanceOf({ ...batch, outputs: [{ kind: 'compost', label: 'bad', massG: bad }] })).toThrow(
        RangeError,
      );
    }
  });
});
