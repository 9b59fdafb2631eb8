import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { attributeResidue, type GroupInput, type ResidueAsked } from '#libs/accounting';

const residue = (batchId: string, massG: number, siteId = 'yard') => ({
  ...{ batchId, siteId, massG, month: '2026-05', wentTo: 'landfill' },
});
const lots = (
  batchId: string,
  jurisdictionId: string,
  massG: number,
  material = 'food-scraps',
): GroupInput => ({
  ...{ batchId, jurisdictionId, siteId: `hub of ${jurisdictionId}`, material, massG },
});
const stock = (batchId: string, material: string, massG: number): GroupInput => ({
  ...{ batchId, jurisdictionId: null, siteId: null, material, massG },
});
const asked = (jurisdictionId: string, more: Partial<ResidueAsked> = {}): ResidueAsked => ({
  ...{ jurisdictionId, siteIds: null, residueTo: 'traced' as const },
  ...more,
});
const grams = (shares: readonly { massG: number }[]) => shares.reduce((sum, { massG }) => sum + massG, 0);

describe('residue booked back to where it came from', () => {
  it('is parted by the mass of the lots, and what came from stock takes no share', () => {
    const inputs = [lots('a', 'town', 300), lots('a', 'county', 100), stock('a', 'wood-chips', 4000)];
    const shares = attributeResidue([residue('a', 40)], inputs, [], asked('town'));
    expect(shares).toEqual([
      { siteId: 'hub of town', material: 'food-scraps', month: '2026-05', wentTo: 'landfill', massG: 30 },
    ]);
  });

  it('goes back through returned overs and merged batches', () => {
    const inputs = [lots('first', 'county', 1000), lots('second', 'town', 300), lots('third', 'town', 500)];
    const links = [
      { fromBatchId: 'first', toBatchId: 'second', massG: 100 },
      { fromBatchId: 'second', toBatchId: 'third', massG: 300 },
    ];
    // Of 300 g out of `second` 75 are the county's; `third` is then 800 g, 75 of them the county's.
    const shares = attributeResidue([residue('third', 80)], inputs, links, asked('county'));
    expect(grams(shares)).toBe(Math.round((80 * 75) / 800));
  });

  it('falls to nobody where nothing was dropped off', () => {
    const inputs = [stock('a', 'horse-manure', 500)];
    expect(attributeResidue([residue('a', 9)], inputs, [], asked('town'))).toEqual([]);
  });

  it('is of the sites asked for alone', () => {
    const inputs = [lots('a', 'town', 1), { ...lots('a', 'town', 1), siteId: 'other hub' }];
    const shares = attributeResidue(
      [residue('a', 10)],
      inputs,
      [],
      asked('town', { siteIds: ['other hub'] }),
    );
    expect(shares).toMatchObject([{ siteId: 'other hub', massG: 5 }]);
  });

  it('makes the whole again, whoever asks', () => {
    const mass = fc.integer({ min: 1, max: 1e9 });
    const towns = fc.array(fc.tuple(fc.constantFrom('a', 'b', 'c'), fc.constantFrom('x', 'y'), mass), {
      minLength: 1,
    });
    fc.assert(
      fc.property(towns, mass, mass, (brought, residueG, oversG) => {
        const inputs = brought.map(([town, batchId, massG]) => lots(batchId, town, massG));
        const links = [{ fromBatchId: 'x', toBatchId: 'y', massG: oversG }];
        if (!inputs.some(({ batchId }) => batchId === 'x')) return;
        const told = ['a', 'b', 'c'].map((town) =>
          grams(attributeResidue([residue('y', residueG)], merged(inputs), links, asked(town))),
        );
        expect(told.reduce((sum, one) => sum + one)).toBe(residueG);
      }),
    );
  });
});

describe('residue booked to where the yard stands', () => {
  const asYard = { residueTo: 'site' as const };

  it('is all of it, told by material', () => {
    const inputs = [lots('a', 'county', 300, 'leaves'), lots('a', 'town', 100), stock('a', 'straw', 50)];
    const shares = attributeResidue([residue('a', 8)], inputs, [], asked('town', asYard));
    expect(shares.map(({ siteId, material, massG }) => [siteId, material, massG]).sort()).toEqual([
      ['yard', 'food-scraps', 2],
      ['yard', 'leaves', 6],
    ]);
  });

  it('is told of stock where nothing was dropped off, and of no material where nothing is recorded', () => {
    const fromStock = attributeResidue(
      [residue('a', 8)],
      [stock('a', 'straw', 50)],
      [],
      asked('town', asYard),
    );
    expect(fromStock).toMatchObject([{ material: 'straw', massG: 8 }]);
    expect(attributeResidue([residue('a', 8)], [], [], asked('town', asYard))).toMatchObject([
      { material: null, massG: 8 },
    ]);
  });

  it('is of the yards asked for alone', () => {
    const other = asked('town', { ...asYard, siteIds: ['other yard'] });
    expect(attributeResidue([residue('a', 8)], [lots('a', 'town', 5)], [], other)).toEqual([]);
  });
});

/** One row a group, as the database sums them. */
function merged(inputs: readonly GroupInput[]): GroupInput[] {
  const groups = new Map<string, GroupInput>();
  for (const input of inputs) {
    const key = `${input.batchId} ${input.jurisdictionId ?? ''}`;
    groups.set(key, { ...input, massG: input.massG + (groups.get(key)?.massG ?? 0) });
  }
  return [...groups.values()];
}
