import { bullets } from '../../pdf/list.js';
import { table } from '../../pdf/table.js';
import { paragraph, subheading } from '../../pdf/text.js';
import type {
  FurtherVerdict,
  InstrumentCaution,
  OtherReading,
  ProcessVerdict,
} from '../record-monitoring.js';
import { figure, plain, sentence, spanOf } from '../words.js';
import { EVIDENCE } from './columns.js';
import { dayByDay } from './days.js';
import type { Writing } from './page.js';

type Place = Pick<Writing, 'sheet' | 'clock'>;

/**
 * What was credited under a rule and why, and what the verdict does not say. `toldAbove` are the cautions of verdicts printed
 * before: they are of the same readings, and are not printed again.
 */
export function reasons(
  place: Place,
  verdict: FurtherVerdict,
  toldAbove: readonly InstrumentCaution[] = [],
): void {
  conditions(place, verdict);
  evidence(place, verdict);
  dayByDay(place.sheet, verdict);
  thermometers(place, verdict, toldAbove);
  otherReading(place, verdict);
  if (verdict.notes.length === 0) return;
  subheading(place.sheet, 'Notes on this verdict');
  bullets(place.sheet, verdict.notes);
}

/** What the rule asks besides its time and turns. */
function conditions({ sheet }: Place, { conditions: list }: FurtherVerdict): void {
  if (list.length === 0) return;
  subheading(sheet, 'What the rule asks besides');
  table(
    sheet,
    [
      { title: 'Condition', width: 88 },
      { title: 'State', width: 60 },
      { title: 'What was recorded', share: 1 },
    ],
    list.map(({ key, state, text }) => ({ cells: [sentence(plain(key)), state, text] })),
  );
}

function evidence({ sheet, clock }: Place, verdict: FurtherVerdict): void {
  subheading(sheet, 'Evidence');
  if (verdict.evidence.length === 0) {
    paragraph(sheet, 'No check bears on the rule yet.');
    return;
  }
  table(
    sheet,
    EVIDENCE,
    verdict.evidence.map(({ from, to, kind, text }) => ({
      cells: [spanOf(clock, from, to), sentence(plain(kind)), text],
    })),
  );
}

/** Readings that were used although something speaks against the instrument, and those that were set aside. */
function thermometers(
  { sheet, clock }: Place,
  { cautions }: FurtherVerdict,
  toldAbove: readonly InstrumentCaution[],
): void {
  if (cautions.length === 0) return;
  subheading(sheet, 'Readings that are doubtful, or were set aside');
  const above = new Set(toldAbove.map(({ text }) => text));
  const own = cautions.filter(({ text }) => !above.has(text));
  const again = cautions.length - own.length;
  if (again > 0) {
    const many = again === 1 ? '1 caution goes' : `${again} cautions go`;
    paragraph(sheet, `${many} for this rule as for the rule above, where the words are.`);
  }
  if (own.length === 0) return;
  table(
    sheet,
    [
      { title: 'When', width: 88 },
      { title: 'Instrument', width: 56 },
      { title: 'What speaks against it', share: 1 },
    ],
    own.map(({ from, to, instrument, text }) => ({
      cells: [spanOf(clock, from, to), instrument, text],
    })),
  );
}

function otherReading({ sheet, clock }: Place, { otherReading: other, required }: FurtherVerdict): void {
  if (other === null) return;
  const text =
    'The rule does not say whether its time must be consecutive. ' +
    `Read as ${other.reading} it would stand so: ${standingOf(clock, other, required)}.`;
  paragraph(sheet, text);
}

function standingOf(
  clock: Writing['clock'],
  { status, creditedHours, creditedDays, turnsCredited, metAt }: OtherReading,
  { hours, days, turns }: ProcessVerdict['required'],
): string {
  const time =
    days === null
      ? `${figure(creditedHours)} of ${figure(hours)} hours credited`
      : `${figure(creditedDays)} of ${figure(days)} local days credited`;
  const turned = turns === 0 ? '' : `, ${figure(turnsCredited)} of ${figure(turns)} turns`;
  return `${plain(status)}${metAt === null ? '' : ` on ${clock(metAt)}`}, ${time}${turned}`;
}
