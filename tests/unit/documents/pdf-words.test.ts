import { describe, expect, it } from 'vitest';
import { batchRecordPdf, type BatchRecord } from '#libs/documents';
import { signedRecord } from './example.js';
import { textOf } from './programs.js';

const textWith = async (facts: Partial<BatchRecord>): Promise<string | null> =>
  textOf(await batchRecordPdf({ ...signedRecord(), ...facts }, null));

describe('the words of a record', () => {
  it('count one drop-off as one, at one moment', async () => {
    const { intake } = signedRecord();
    const text = await textWith({ intake: { ...intake, dropOffs: 1, lastAt: intake.firstAt } });
    if (text === null) return;
    expect(text).toMatch(/From 1 drop-off, on \d{4}-\d\d-\d\d \d\d:\d\d\. Estimated/);
  });

  it('tell why a gate was released in spite of it under what the gate says', async () => {
    const [gate, ...gates] = signedRecord().gates;
    if (!gate) throw new Error('the example has gates');
    const text = await textWith({
      gates: [{ ...gate, overrideReason: 'the paper is at the office' }, ...gates],
    });
    if (text === null) return;
    expect(text).toContain(`${gate.text} Released in spite of it, because: the paper is at the office`);
  });

  it('do not say of a sample that was not weighed that it weighs nothing', async () => {
    const samples = signedRecord().samples.map((sample) => ({ ...sample, massKg: 0 }));
    expect(samples.length).toBeGreaterThan(0);
    const text = await textWith({ samples });
    if (text === null) return;
    expect(text).toContain('Laboratory and reference');
    expect(text).not.toMatch(/Laboratory and reference Mass, kg/);
  });

  it('name the materials that a permit allows, in a record of before there were names by its codes', async () => {
    const { permit } = signedRecord();
    if (!permit) throw new Error('the example has a permit');
    const materials = ['Straw, wheat', 'Apple-pulp', 'wood-chips'];
    const text = await textWith({ permit: { ...permit, materials } });
    if (text === null) return;
    expect(text).toContain('Materials allowed Straw, wheat; Apple-pulp; wood chips');
  });

  it('say why more went in than the mix weighs', async () => {
    const { mix, balance } = signedRecord();
    if (!mix || !balance) throw new Error('the example has a mix and a balance');
    const text = await textWith({
      mix: { ...mix, figuresAsOf: '2024-05-06T00:00:00Z' },
      balance: { ...balance, inputKg: mix.massKg + 75 },
    });
    if (text === null) return;
    expect(text).toContain(
      `In the mass balance ${mix.massKg + 75} kg went in: what was added after the building`,
    );
  });
});
