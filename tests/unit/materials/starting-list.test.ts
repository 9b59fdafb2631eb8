import { describe, expect, it } from 'vitest';
import { startingMaterials } from '#libs/materials';

describe('the starting list', () => {
  it('has at least two dozen materials, each with a code of its own', () => {
    expect(startingMaterials.length).toBeGreaterThanOrEqual(24);
    expect(new Set(startingMaterials.map(({ code }) => code)).size).toBe(startingMaterials.length);
    for (const { code } of startingMaterials) expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
  });

  it('says from memory exactly where a figure is from memory', () => {
    for (const { code, source, verification } of startingMaterials) {
      expect(/from memory/i.test(source), code).toBe(verification === 'from-memory');
      expect(source.length, code).toBeGreaterThan(20);
    }
  });

  it('holds only figures that can be', () => {
    for (const material of startingMaterials) {
      const { code, nitrogenPercentDry, carbonToNitrogen, moisturePercent, bulkDensityKgM3 } = material;
      if (moisturePercent !== null) expect(moisturePercent >= 0 && moisturePercent <= 100, code).toBe(true);
      if (bulkDensityKgM3 !== null) expect(bulkDensityKgM3 > 50 && bulkDensityKgM3 <= 1000, code).toBe(true);
      // Dry organic matter is roughly a quarter to two thirds carbon; a product outside says the two figures do not belong together.
      if (nitrogenPercentDry !== null && carbonToNitrogen !== null) {
        const carbonPercentDry = nitrogenPercentDry * carbonToNitrogen;
        expect(carbonPercentDry > 25 && carbonPercentDry < 65, `${code}: ${carbonPercentDry} % C`).toBe(true);
      }
    }
  });

  it('calls a material nitrogen-rich or carbon-rich as its C:N says', () => {
    for (const { code, class: kind, carbonToNitrogen } of startingMaterials) {
      if (carbonToNitrogen === null || kind === 'neutral') continue;
      expect(kind, code).toBe(carbonToNitrogen < 30 ? 'nitrogen' : 'carbon');
    }
  });

  it('warns wherever persistent herbicides are known to arrive', () => {
    for (const code of [
      'grass-clippings',
      'hay',
      'straw-wheat',
      'straw-oat',
      'horse-manure-straw',
      'cow-manure',
    ]) {
      expect(startingMaterials.find((material) => material.code === code)?.caution, code).toContain(
        'herbicide',
      );
    }
  });
});
