import { describe, expect, it } from 'vitest';
import {
  cautionsOf,
  materialTraits,
  type MaterialTrait,
  notesOnIntake,
  startingMaterials,
} from '#libs/materials';

const listed = (code: string, massG: number) => ({
  material: startingMaterials.find((row) => row.code === code)!,
  massG,
});
const plain = (code: string, traits: MaterialTrait[], massG: number, caution: string | null = null) => ({
  material: { code, traits, caution },
  massG,
});
const codes = (cautions: readonly { code: string }[]) => cautions.map(({ code }) => code);

describe('cautions of a batch', () => {
  it('says nothing of what needs no caution', () => {
    expect(cautionsOf([plain('leaves', [], 1000), plain('scraps', [], 3000)])).toEqual([]);
    expect(cautionsOf([])).toEqual([]);
  });

  it('has words and a source for every trait', () => {
    for (const trait of materialTraits) {
      const [only, ...more] = cautionsOf([plain('it', [trait], 1000)]);
      expect(only, trait).toMatchObject({ code: trait, materials: ['it'] });
      expect(only!.text.length, trait).toBeGreaterThan(40);
      expect(only!.source, trait).toMatch(/common practice|US Composting Council/);
      expect(more, trait).toEqual([]);
    }
  });

  it.each(['citrus', 'allium'] as const)('speaks of %s only where it dominates', (trait) => {
    const of = (massG: number) => cautionsOf([plain('it', [trait], massG), plain('scraps', [], 3000)], {});
    expect(of(999)).toEqual([]);
    expect(of(1000)).toMatchObject([{ code: trait, materials: ['it'] }]);
    expect(of(1000)[0]!.source).toContain('our own threshold');
    const inTwo = cautionsOf([plain('a', [trait], 500), plain('b', [trait], 500), plain('scraps', [], 3000)]);
    expect(inTwo).toMatchObject([{ materials: ['a', 'b'] }]);
  });

  it('counts water into the mass that citrus is a share of', () => {
    expect(
      codes(cautionsOf([listed('citrus-peel', 1000), listed('leaves', 2000), listed('water', 1500)])),
    ).toEqual(['material']);
  });

  it('names every material of a trait once, and speaks of it from the first gram', () => {
    const cautions = cautionsOf([
      listed('hay', 1),
      listed('grass-clippings', 500_000),
      listed('hay', 4),
      listed('cow-manure', 20_000),
    ]);
    expect(cautions).toMatchObject([
      { code: 'herbicide-risk', materials: ['hay', 'grass-clippings', 'cow-manure'] },
      { code: 'raw-manure', materials: ['cow-manure'] },
    ]);
    expect(cautions[0]!.text).toMatch(/bioassay/);
    expect(cautions[0]!.source).toContain('Persistent Herbicide FAQ');
  });

  it('leaves out a part without mass', () => {
    expect(cautionsOf([plain('hay', ['herbicide-risk'], 0), plain('leaves', [], 1000)])).toEqual([]);
  });

  it('says of animal products what is on record of the permit, and never that they are lawful', () => {
    const parts = [
      listed('meat-scraps', 10),
      listed('dairy', 10),
      listed('fish-scraps', 10),
      listed('leaves', 1000),
    ];
    const answers: Record<string, boolean | null> = {
      'meat-scraps': true,
      dairy: false,
      'fish-scraps': null,
    };
    const cautions = cautionsOf(parts, { permitAllows: (code) => answers[code] ?? null });
    expect(cautions.filter(({ code }) => code === 'animal-product')).toMatchObject([
      { materials: ['dairy'], text: expect.stringContaining('does not list it') as string },
      { materials: ['fish-scraps'], text: expect.stringContaining('No permit on record') as string },
      { materials: ['meat-scraps'], text: expect.stringContaining('its conditions') as string },
    ]);
    for (const { text } of cautions) expect(text).not.toMatch(/\b(legal|lawful|permitted|allowed)\b/i);
    expect(cautionsOf(parts)[0]).toMatchObject({ materials: ['meat-scraps', 'dairy', 'fish-scraps'] });
  });

  it('gives what a material says of itself, after the traits', () => {
    const cautions = cautionsOf([
      plain('ash', ['caustic'], 5, 'Cold ash only.'),
      plain('board', [], 5, 'Take off tape.'),
    ]);
    expect(cautions.map(({ code, text, materials }) => [code, text.slice(0, 14), materials])).toEqual([
      ['caustic', 'Ash burns skin', ['ash']],
      ['material', 'Cold ash only.', ['ash']],
      ['material', 'Take off tape.', ['board']],
    ]);
  });
});

describe('notes on a single lot', () => {
  const permit = { reference: 'LH-COMP-12', allowsMaterial: true };

  it('says only what helps while whoever brought it is there', () => {
    expect(codes(notesOnIntake([...materialTraits], permit))).toEqual([
      'animal-product',
      'herbicide-risk',
      'caustic',
    ]);
    expect(notesOnIntake(['citrus', 'allium', 'raw-manure', 'wood-dust', 'salty'], permit)).toEqual([]);
    expect(notesOnIntake([], null)).toEqual([]);
  });

  it('asks where grass, hay and straw come from', () => {
    expect(notesOnIntake(['herbicide-risk'], permit)[0]!.text).toMatch(/ask whether .* sprayed/);
  });

  it.each([
    [permit, 'Permit LH-COMP-12 as recorded does not leave it out; its conditions decide.'],
    [{ ...permit, allowsMaterial: false }, 'Permit LH-COMP-12 as recorded does not list it.'],
    [null, 'No permit of that day is on record.'],
  ])('says of an animal product what the permit says: %j', (word, text) => {
    const [note] = notesOnIntake(['animal-product'], word);
    expect(note!.text).toContain('only where permit and process rule allow');
    expect(note!.text).toContain(text);
  });
});
