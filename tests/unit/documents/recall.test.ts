import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import {
  RECALL_CAUTIONS,
  recallCsv,
  recallInWords,
  type RecallList,
  recallPdf,
  type RecallWaiting,
} from '#libs/documents';
import { run, textOf } from './programs.js';

const place = { site: 'Heron Street yard', timeZone: 'America/Denver' };

/** A lot of hay in so many batches, each with so many distributions. */
export function recallOf(batches: number, distributionsEach: number): RecallList {
  const code = (at: number) => `HS-2026-${String(at + 1).padStart(3, '0')}`;
  return {
    programme: 'Lark Hollow Compost',
    asOf: '2026-06-02T16:00:00Z',
    subject: {
      title: 'Hay, legume and grass of 2026-03-02',
      timeZone: place.timeZone,
      lines: [
        { label: 'Dropped off', value: '2026-03-02 09:00, Quill Street hub (QS)' },
        { label: 'Accepted', value: '100 kg' },
      ],
    },
    waiting: null,
    batches: Array.from({ length: batches }, (_, at) => ({
      ...{ code: code(at), site: place.site, stage: at === 0 ? 'emptied' : 'released', onHold: at > 1 },
      ways: at === 0 ? [] : [`overs of ${code(at - 1)}, 104.25 kg`, `all of ${code(at)}, 1240.5 kg`],
      ...{ inputKg: 4_000.125, ofItKg: at > 5 ? 0 : 80 / 10 ** at, sharePercent: at > 3 ? 0 : 2 / 10 ** at },
      ...{ compostLeftKg: 1_590.5, oversLeftKg: 10.25 },
    })),
    distributions: Array.from({ length: batches * distributionsEach }, (_, at) => ({
      ...place,
      ...{ code: `${code(at % batches)}/${at + 1}`, batchCode: code(at % batches) },
      ...{ occurredAt: '2026-05-30T15:30:00Z', recipient: 'community-garden' },
      ...{ use: 'vegetable-beds', massKg: 1_240.25, volumeL: null, ofItKg: 24.805, sharePercent: 2 },
      note: at % 3 === 0 ? 'Fetched with the long trailer, for the beds by the orchard wall' : null,
    })),
    assumptions: ['Each batch is taken to be mixed evenly.'],
    cautions: RECALL_CAUTIONS,
  };
}

describe('a recall list', () => {
  it('says in a few sentences how far it went and what is not held', () => {
    expect(recallInWords(recallOf(4, 1))).toBe(
      'It came into 4 batches. It was handed out in 4 distributions. Not on hold: HS-2026-002.',
    );
    expect(recallInWords(recallOf(1, 0))).toBe(
      'It came into 1 batch. None of it is recorded as handed out. All that still have something to give are on hold.',
    );
    // It may be at somebody else's yard, where it is composted all the same.
    const nowhere = recallInWords(recallOf(0, 0));
    expect(nowhere).toContain('in no batch here, so no compost of it was handed out here');
    expect(nowhere).not.toContain('has left');
  });

  it('says where what is in no batch lies, and has a line for it', () => {
    const inWords = (kind: RecallWaiting['kind']) =>
      recallInWords({ ...recallOf(0, 0), waiting: { kind, site: 'Wren Gate', ofItKg: 17.943 } });
    expect(inWords('waiting')).toMatch(
      /17\.943 kg of it waits at Wren Gate: set it apart, and put it into no batch\.$/,
    );
    expect(inWords('on-the-road')).toContain('is on the road to Wren Gate: set it apart');
    expect(inWords('elsewhere')).toMatch(/went to Wren Gate, who compost it: tell them\.$/);
    const waiting: RecallWaiting = { kind: 'waiting', site: 'Wren Gate', ofItKg: 2.721 };
    const some = { ...recallOf(1, 1), waiting };
    expect(recallInWords(some)).toMatch(/^It came into 1 batch\. .*2\.721 kg of it waits at Wren Gate/);
    const rows = parse<Record<string, string>>(recallCsv(some), { columns: true });
    expect(rows.map(({ kind }) => kind)).toEqual(['waiting', 'batch', 'distribution']);
    expect(rows[0]).toMatchObject({
      ...{
        batch: '',
        site: 'Wren Gate',
        code: '',
        mass_kg: '2.721',
        of_it_kg: '2.721',
        share_percent: '100',
      },
    });
  });

  it('prints everything that must be known before anything is done', async () => {
    const text = textOf(await recallPdf(recallOf(3, 2)));
    if (text === null) return;
    for (const said of [
      'What it is not',
      'no measurement of anything harmful',
      'Clopyralid',
      'Ask the local extension',
      'laboratory that tests compost',
      'mixed evenly',
      'Told on, by',
      'orchard wall',
      'put in itself',
      'HS-2026-002/5',
    ]) {
      expect(text).toContain(said);
    }
    expect(text).not.toContain('\ufffd');
  });

  it('is the same, byte for byte, of the same list', async () => {
    const [one, other] = [await recallPdf(recallOf(2, 1)), await recallPdf(recallOf(2, 1))];
    expect(Buffer.compare(one, other)).toBe(0);
  });

  it('goes over as many pages as it takes, with every distribution', async () => {
    const bytes = await recallPdf(recallOf(51, 3));
    const text = textOf(bytes);
    if (text === null) return;
    expect(text.match(/Community/g)).toHaveLength(153);
    const pages = Number(/Pages:\s+(\d+)/.exec(run(bytes, 'pdfinfo', 'FILE') ?? '')?.[1]);
    expect(pages).toBeGreaterThan(4);
    expect(text).toContain(`Page ${pages} of ${pages}`);
  });

  it('is a table of one width, whatever stands in its notes', () => {
    const list = recallOf(2, 1);
    const [first, second] = list.distributions;
    const notes = ['@SUM(1;2)', 'a "quoted" note,\nover two lines; and more'];
    const distributions = [first!, second!].map((one, at) => ({ ...one, note: notes[at]! }));
    const rows = parse(recallCsv({ ...list, distributions }), { columns: false });
    expect(new Set(rows.map((row) => row.length))).toEqual(new Set([18]));
    expect(rows.slice(3).map((row) => row.at(-1))).toEqual([`'${notes[0]!}`, notes[1]]);
    expect(rows[3]!.slice(6, 9)).toEqual(['HS-2026-001/1', '2026-05-30T15:30:00Z', '2026-05-30 09:30']);
  });
});
