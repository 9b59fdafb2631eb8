import { describe, expect, it } from 'vitest';
import { batchRecordPdf, CAUTIONS, DEFERENCE, sealOf, type BatchRecord } from '#libs/documents';
import { bareRecord, longRecord } from './example-variants.js';
import { signedRecord } from './example.js';
import { readAloud, run, textOf } from './programs.js';

const sealed = (record: BatchRecord): Promise<Uint8Array> => batchRecordPdf(record, sealOf(record));
const header = (pdf: Uint8Array): string => Buffer.from(pdf.subarray(0, 8)).toString('latin1');

describe('the same record', () => {
  it('gives the same bytes twice, in any time zone', async () => {
    const first = await sealed(signedRecord());
    const zone = process.env['TZ'];
    try {
      process.env['TZ'] = 'Asia/Tokyo';
      expect(Buffer.compare(first, await sealed(signedRecord()))).toBe(0);
    } finally {
      process.env['TZ'] = zone;
    }
  });

  it('gives other bytes when a single figure differs', async () => {
    const record = signedRecord();
    const other = { ...record, intake: { ...record.intake, acceptedKg: 1635.526 } };
    expect(Buffer.compare(await batchRecordPdf(record, null), await batchRecordPdf(other, null))).not.toBe(0);
  });
});

describe('the file', () => {
  it('is PDF 1.7, sound to qpdf, with its typeface embedded, tagged, titled and dated by the record', async () => {
    const pdf = await sealed(signedRecord());
    expect(header(pdf)).toBe('%PDF-1.7');
    const verdict = run(pdf, 'qpdf', '--check', 'FILE');
    if (verdict !== null) expect(verdict).toContain('No syntax or stream encoding errors found');
    const fonts = run(pdf, 'pdffonts', 'FILE')?.trim().split('\n').slice(2);
    if (fonts) {
      expect(fonts).toHaveLength(2);
      for (const font of fonts) expect(font).toMatch(/NotoSans-\w+ +CID TrueType +Identity-H +yes yes yes/);
    }
    const info = run(pdf, 'pdfinfo', '-isodates', 'FILE');
    if (info === null) return;
    expect(info).toMatch(/Title: +Batch record KL-2024-007/);
    expect(info).toMatch(/Tagged: +yes/);
    expect(info).toMatch(/CreationDate: +2024-08-02T23:00:00Z/);
    const metadata = run(pdf, 'pdfinfo', '-meta', 'FILE') ?? '';
    expect(metadata).toContain('<pdfaid:part>3</pdfaid:part>');
    expect(metadata).toContain('<pdfaid:conformance>A</pdfaid:conformance>');
  });

  it('keeps its metadata well formed whatever the batch is called', async () => {
    const record = signedRecord();
    const pdf = await batchRecordPdf({ ...record, batch: { ...record.batch, code: 'A<&>B' } }, null);
    const metadata = run(pdf, 'pdfinfo', '-meta', 'FILE');
    if (metadata !== null) expect(metadata).toContain('>Batch record A   B</rdf:li>');
  });

  it('reads aloud in order, each cell under its heading, page furniture left out', async () => {
    const spoken = readAloud(await batchRecordPdf(bareRecord(), null));
    if (spoken === null) return;
    const order = [
      '"DRAFT ',
      '"KL-2024-008"',
      'No process rule is set',
      DEFERENCE,
      '"Identity and permit"',
      '"Cautions"',
    ];
    const places = order.map((text) => spoken.indexOf(text));
    expect(places).not.toContain(-1);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(spoken).toMatch(/TH:\s+\/Scope \/Column\s+"Went in"/);
    for (const caution of CAUTIONS) expect(spoken).toContain(caution.text.replaceAll('"', '\\"'));
    expect(spoken).not.toContain('Page 1 of');
  });

  it('tells the chart in words', async () => {
    const objects = run(await sealed(signedRecord()), 'qpdf', '--json', 'FILE');
    if (objects === null) return;
    expect(objects).toContain(
      'u:Temperature of the pile over time from 2024-05-06 08:10 to 2024-06-02 08:10',
    );
  });

  it('tells the chart of a logger alone, and what of it is drawn', async () => {
    const record = { ...signedRecord(), checks: [] };
    const objects = run(await sealed(record), 'qpdf', '--json', 'FILE');
    if (objects === null) return;
    expect(objects).toContain(
      'u:Temperature of the pile over time from 2024-05-09 08:10 to 2024-05-10 07:10',
    );
    expect(objects).toContain('Of a logger the lowest and the highest of each hour are drawn');
  });
});

/** Every number in the record with the path to it, and every figure that stands inside a text of it. */
function figuresOf(value: unknown, path = ''): { path: string; value: number | string }[] {
  if (typeof value === 'number') return [{ path, value }];
  if (typeof value === 'string')
    return (value.match(/\d+(?:\.\d+)?/g) ?? []).map((digits) => ({ path, value: digits }));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => figuresOf(inner, `${path}/${key}`));
}

/** What is said to be in record.json only. */
const NOT_PRINTED = /^\/checks\/\d+\/readings\/\d+\/(depthCm|entered)|^\/loggers\//;

describe('the figures', () => {
  it.each([
    ['signed', signedRecord()],
    ['long', longRecord(60)],
  ])('of the %s example are all printed, to the digit, and none is made up', async (_name, record) => {
    const text = textOf(await sealed(record));
    if (text === null) return;
    const printed = new Set(text.match(/-?\d+(?:\.\d+)?/g));
    const numbers = figuresOf(record).filter(({ value }) => typeof value === 'number');
    expect(numbers.length).toBeGreaterThan(150);
    const missing = numbers.filter(
      ({ path, value }) => !NOT_PRINTED.test(path) && !printed.has(String(value)),
    );
    expect(missing).toEqual([]);
    const known = new Set(figuresOf(record).map(({ value }) => String(value)));
    const fractions = [...printed].filter((token) => token.includes('.'));
    expect(fractions.filter((token) => !known.has(token))).toEqual([]);
  });

  it('of a pile stand with what was noted of it', async () => {
    const record = signedRecord();
    const piles = record.piles.map((pile) => ({ ...pile, note: 'Edges raked in first' }));
    expect(textOf(await sealed({ ...record, piles })) ?? piles[0]!.note).toContain('Edges raked in first');
  });

  it('stand in the row they belong to', async () => {
    const text = textOf(await sealed(signedRecord()));
    if (text === null) return;
    expect(text).toContain('Leaves, dry 13 300.45 0 123.5 423.95');
    expect(text).toContain('Went in 1273.35 2966.815');
    expect(text).toContain('Coffee grounds 4 0 123.5 0 123.5');
    expect(text).toMatch(/2024-05-05 10:00 KL-2024-005 was put in.* by its records 310\.4/);
    expect(text).toMatch(/Triangular windrow 6 long, 2\.4 wide.* 2880 560 1612\.8/);
    expect(text).toContain('Lifted on 2024-07-25 09:00: The bean bioassay showed nothing.');
    expect(text).toContain('2024-05-15 08:10 57.7 63.2 61.4 57.7 moist, earthy, air 18 °C. Steam');
  });
});

describe('the sources', () => {
  const source = '267 kg/m³, the programme’s list of materials';

  it('are printed once each, however many rows rest on them, and by the same number', async () => {
    const record = signedRecord();
    const [chips, ...rest] = record.intake.amendments;
    if (!chips || !record.mix) throw new Error('the example has amendments and a mix');
    const amendments = [chips, { ...chips, massKg: 613.5 }, { ...chips, massKg: 614.5 }, ...rest];
    const [food, ...others] = record.mix.materials;
    const { moisturePercent } = food!.figures;
    const figures = { ...food!.figures, moisturePercent: { ...moisturePercent!, source: 'another' } };
    const mix = { ...record.mix, materials: [{ ...food!, figures }, ...others] };
    const text = textOf(await sealed({ ...record, intake: { ...record.intake, amendments }, mix }));
    if (text === null) return;
    expect(text.split(source)).toHaveLength(2);
    const number = /\[(\d+)\] 267 kg/.exec(text)?.[1] ?? 'none';
    for (const massKg of [612.35, 613.5, 614.5])
      expect(text).toContain(`3 yd³ ${massKg} estimated [${number}]`);
    const laboratory = 'Fell Laboratory, FL-204, sampled on 2024-04-11 (typed in by the programme)';
    expect(text.split(laboratory)).toHaveLength(2);
    expect(text.split('another (read on a third-party copy)')).toHaveLength(2);
  });

  it('say in words how far a figure was checked, figure by figure', async () => {
    const record = signedRecord();
    const text = textOf(await sealed(record));
    if (text === null) return;
    expect(text).toMatch(/\[\d+\] no document \(from memory, not checked\)/);
    expect(text).not.toContain('from-memory');
    const numberOf = (start: string) => new RegExp(`(\\[\\d+\\]) ${start}`).exec(text)?.[1] ?? 'none';
    const [fell, handbook] = [numberOf('Fell Lab'), numberOf('On-Farm')];
    const line = [fell, fell, handbook, fell, handbook, numberOf('bucket test')].join(' ');
    expect(text).toContain(line.replace(`${fell} ${fell} `, `${fell} `)); // the second is a line higher: it has no range
  });

  it('stand beside everything that is asked of a figure, the permit first', async () => {
    const text = textOf(await sealed(signedRecord()));
    if (text === null) return;
    expect(text).toMatch(
      /Carbon to nitrogen 28\.4 21\.7 to 39\.2 91\.5 Permit, 24 to 36: within, not for sure \[(\d+)\] Reasonable, 20 to 40: within \[(?!\1)\d+\] Preferred/,
    );
    expect(text).toMatch(/Bulk density, kg\/m³ 413\.8 335\.1 to 487\.4 95\.4 Preferred, up to 653: within/);
    expect(text).toMatch(/Free air space, % – – 0 Preferred, 40 to 60: not known/);
  });
});

describe('the mix', () => {
  it('says what was weighed, what is lacking, how its ranges were carried and what its materials call for', async () => {
    const text = textOf(await sealed(signedRecord()));
    if (text === null) return;
    for (const said of [
      'Of it weighed 1693.465 kg',
      'Figures missing for 123.5 kg',
      '1.17 to 1 by mass, 0.58 to 1 by',
      'Not known, and left out of the figures of the mix: Coffee grounds (bulk density).',
      'Taken as a point, since no range is known: Coffee grounds (moisture).',
      'Each range is from the corners of the ranges of the materials, one at a time.',
      'Leaves, dry; Grass clippings: Hay, straw, grass and manure may carry herbicides',
      'Carbon to nitrogen 24 to 36',
      'Figures as of 2024-05-05 16:45',
    ]) {
      expect(text).toContain(said);
    }
  });

  it('says whose figures cannot be, and were not used', async () => {
    const record = signedRecord();
    if (!record.mix) throw new Error('the example has a mix');
    const contradicted = [{ material: 'Apple pomace', detail: 'ash and carbon come to 112 %' }];
    const text = textOf(await sealed({ ...record, mix: { ...record.mix, contradicted } }));
    if (text !== null)
      expect(text).toContain(
        'The figures of Apple pomace were taken as unknown: ash and carbon come to 112 %.',
      );
  });

  it('has no column for a figure that is known of no material', async () => {
    const record = signedRecord();
    if (!record.mix) throw new Error('the example has a mix');
    const materials = record.mix.materials.slice(1);
    const text = textOf(await sealed({ ...record, mix: { ...record.mix, materials } }));
    if (text === null) return;
    expect(text).toContain('Nitrogen, %');
    expect(text).not.toContain('Ash, %');
    expect(text).not.toContain('Carbon, %');
  });
});

describe('the gates', () => {
  it('have a column for reasons only where one was released in spite of it', async () => {
    const record = signedRecord();
    const column = 'Released in spite of it, because';
    const gates = record.gates.map((gate) => ({ ...gate, overrideReason: null }));
    const [overridden, plain] = [textOf(await sealed(record)), textOf(await sealed({ ...record, gates }))];
    if (overridden === null || plain === null) return;
    expect(overridden).toContain(column);
    expect(plain).not.toContain(column);
    expect(plain).toContain('Probe T-3 was last verified 14 months before the first check.');
  });

  it('name a rule by its own code, and themselves in words', async () => {
    const gate = { key: 'process-rule:weir-9-2', state: 'met', text: 'Met.', overrideReason: null } as const;
    const text = textOf(await sealed({ ...signedRecord(), gates: [gate] }));
    if (text !== null) expect(text).toMatch(/Process rule: ?weir-9- ?2/);
  });
});

describe('a signed record', () => {
  it('says in words what was met, by whom it was signed, what was overridden, and that the permit governs', async () => {
    const record = signedRecord();
    const text = textOf(await sealed(record));
    if (text === null) return;
    expect(text).toContain('RELEASED');
    expect(text).toContain('Met. The recorded criteria of Windrow, 55 °C for 15 days with five turns');
    expect(text).toContain('Rosalind Oyelaran');
    expect(text).toContain('Manager, 2024-08-02 16:10; typed in 2024-08-02 16:12');
    expect(text).toContain('The local permit and the local authority govern.');
    expect(text).toContain('Thermometer verified unmet');
    expect(text).not.toContain('DRAFT');
  });

  it('prints its seal in full, on every page and in its own box, and every page its number', async () => {
    const record = signedRecord();
    const text = textOf(await sealed(record)) ?? null;
    if (text === null) return;
    const pages = Number(/Page 1 of (\d+)/.exec(text)?.[1]);
    expect(pages).toBeGreaterThan(4);
    expect(text).toContain(`Page ${pages} of ${pages}`);
    expect(text.split(sealOf(record))).toHaveLength(pages + 2);
  });
});

describe('an unreleased record', () => {
  it('is printed with nothing in it, and says on every page that it is a draft', async () => {
    const pdf = await batchRecordPdf(bareRecord(), null);
    const text = textOf(pdf);
    if (text === null) return;
    expect(text).toContain('DRAFT');
    expect(text).toContain('nothing of it is to be handed out as compost');
    expect(text).toContain('No process rule is set for this batch');
    expect(text).toContain('No temperature has been recorded for this batch.');
    expect(text).toContain('Not signed.');
    const pages = Number(/Page 1 of (\d+)/.exec(text)?.[1]);
    expect(text.split('Draft: not released. Not sealed.')).toHaveLength(pages + 1);
  });

  it('says so when the batch was condemned', async () => {
    const record = bareRecord();
    const condemned: BatchRecord = { ...record, batch: { ...record.batch, stage: 'condemned' } };
    const text = textOf(await batchRecordPdf(condemned, null));
    if (text === null) return;
    expect(text).toContain('CONDEMNED');
    expect(text).toContain('This batch was condemned.');
  });

  it.each([
    ['not-started', 'Not started. No time is credited under'],
    ['in-progress', 'In progress. The recorded criteria of Windrow'],
    ['interrupted', 'Interrupted. A run under Windrow'],
    ['insufficient-data', 'Insufficient data. The checks do not show'],
  ] as const)('puts the verdict %s in words', async (status, words) => {
    const record = signedRecord();
    if (!record.verdict) throw new Error('the example has a verdict');
    const verdict = { ...record.verdict, status, metAt: null };
    const text = textOf(await batchRecordPdf({ ...record, status: 'draft', release: null, verdict }, null));
    if (text !== null) expect(text).toContain(words);
  });

  it('names an excess instead of a loss when more came out than went in', async () => {
    const record = signedRecord();
    if (!record.balance) throw new Error('the example has a balance');
    const balance = { ...record.balance, processLossKg: null, excessKg: 77.125, yieldPercent: null };
    const text = textOf(await batchRecordPdf({ ...record, balance }, null));
    if (text === null) return;
    expect(text).toContain('More came out than went in, by 77.125 kg');
    expect(text).toContain('Process loss: water and carbon to the air –');
  });
});

describe('what people type', () => {
  const withNames = (name: string): BatchRecord => {
    const record = signedRecord();
    const [first, ...rest] = record.checks;
    if (!first) throw new Error('the example has checks');
    return {
      ...record,
      programme: { name },
      site: { ...record.site, name },
      checks: [{ ...first, note: name, readings: [{ ...first.readings[0]!, position: name }] }, ...rest],
    };
  };

  it('is printed in Latin, Greek and Cyrillic letters', async () => {
    const text = textOf(await sealed(withNames('Dvůr Řečany, Αυλή Κομποστοποίησης, Двор Заречье')));
    if (text === null) return;
    for (const word of ['Dvůr', 'Řečany', 'Αυλή', 'Κομποστοποίησης', 'Двор', 'Заречье'])
      expect(text).toContain(word);
    expect(text).not.toContain('\ufffd');
  });

  it('is marked, and the mark explained, where the typeface has no letter for it', async () => {
    const pdf = await sealed(withNames('堆肥 حديقة 🍂\u0000\u001b done'));
    expect(header(pdf)).toBe('%PDF-1.7');
    const text = textOf(pdf);
    if (text === null) return;
    expect(text).toContain('\ufffd\ufffd');
    expect(text).toMatch(/Characters printed as \ufffd have no letter in this typeface/);
    const fonts = run(pdf, 'pdffonts', 'FILE') ?? '';
    expect(fonts.match(/NotoSans/g)).toHaveLength(2);
  });

  it('may be very long: words without a break, and notes longer than a page', async () => {
    const words = Array.from({ length: 1500 }, (_unused, index) => `word${index}`);
    const record = withNames('Longnameswithoutanybreakatall'.repeat(12));
    const [first, ...rest] = record.checks;
    const pdf = await sealed({ ...record, checks: [{ ...first!, note: words.join(' ') }, ...rest] });
    const check = run(pdf, 'qpdf', '--check', 'FILE');
    if (check !== null) expect(check).toContain('No syntax or stream encoding errors found');
    const printed = new Set(textOf(pdf)?.split(' '));
    if (printed.size > 0) expect(words.filter((word) => !printed.has(word))).toEqual([]);
  });

  it('may name more probe positions than fit as columns', async () => {
    const record = signedRecord();
    const readings = Array.from({ length: 9 }, (_unused, index) => ({
      position: `probe-${index + 1}`,
      zone: null,
      depthCm: null,
      temperatureC: 50.5 + index,
      instrument: null,
      entered: null,
    }));
    const checks = record.checks.map((check) => ({ ...check, readings }));
    const text = textOf(await sealed({ ...record, checks }));
    if (text !== null) expect(text).toContain('probe-1 50.5; probe-2 51.5;');
  });
});
