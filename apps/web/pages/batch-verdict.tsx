import { citationOf, wordingOf } from '../../../libs/documents/batch-record/rule-words.js';
import type { BatchRecord, FurtherVerdict } from '../../../libs/documents/batch-record/record.js';
import type { OtherReading, ProcessVerdict } from '../../../libs/documents/batch-record/record-monitoring.js';
import { calendarDay, moment } from '../figures.js';
import { TemperatureChart } from '../temperature-chart.js';

/** What the records show of the process rule, and what it rests on. */
export function Verdict({ record }: { record: BatchRecord }) {
  const { verdict, furtherVerdicts, site } = record;
  return (
    <section>
      <h2>Time and temperature</h2>
      <TemperatureChart record={record} />
      {verdict ? (
        <Governing verdict={verdict} timeZone={site.timeZone} />
      ) : (
        <p>No process rule was named for this batch.</p>
      )}
      {furtherVerdicts.length > 0 && <Further verdicts={furtherVerdicts} timeZone={site.timeZone} />}
    </section>
  );
}

function Governing({ verdict, timeZone }: { verdict: ProcessVerdict; timeZone: string }) {
  const { rule, required } = verdict;
  return (
    <>
      <p>
        <strong>{plain(verdict.status)}</strong>: {rule.title} ({citationOf(rule)}), read as {verdict.reading}
        . Credited: {creditOf(verdict, required)}.
      </p>
      <p class="faint">Wording of the rule: {wordingOf(rule)}.</p>
      <Reasons verdict={verdict} timeZone={timeZone} />
    </>
  );
}

/** What a verdict rests on, whether its rule governs or the permit asks for it besides. */
function Reasons({ verdict, timeZone }: { verdict: FurtherVerdict; timeZone: string }) {
  const { required, cautions, otherReading, notes } = verdict;
  return (
    <>
      <Conditions of={verdict} />
      {cautions.length > 0 && (
        <>
          <p>Readings that are doubtful, or were set aside:</p>
          <ul>
            {cautions.map(({ instrument, from, text }) => (
              <li key={`${instrument}${from}${text}`}>{text}</li>
            ))}
          </ul>
        </>
      )}
      {otherReading && (
        <p>
          The rule does not say whether its time must be consecutive. Read as {otherReading.reading}:{' '}
          {plain(otherReading.status)}, {creditOf(otherReading, required)} credited.
        </p>
      )}
      <Days verdict={verdict} />
      <details>
        <summary>Evidence</summary>
        <ol>
          {verdict.evidence.map((item) => (
            <li key={`${item.from}${item.kind}${item.text}`}>
              {moment(item.from, timeZone)}: {item.text}
            </li>
          ))}
        </ol>
      </details>
      {notes.length > 0 && (
        <details>
          <summary>Notes on this verdict</summary>
          <ul>
            {notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function Conditions({ of: { conditions } }: { of: Pick<ProcessVerdict, 'conditions'> }) {
  if (conditions.length === 0) return null;
  return (
    <ul>
      {conditions.map(({ key, state, text }) => (
        <li key={key}>
          <strong>{state}</strong> {text}
        </li>
      ))}
    </ul>
  );
}

/** The credited hours, day by day: the column adds up to them. */
function Days({ verdict: { days, creditedHours } }: { verdict: FurtherVerdict }) {
  if (days.length === 0) return null;
  return (
    <details>
      <summary>Day by day</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">Day</th>
            {['Readings', 'Lowest, °C', 'Longest gap, h', 'Credited, h', 'Turns'].map((title) => (
              <th key={title} scope="col" class="figure">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {days.map((day) => (
            <tr key={day.day}>
              <th scope="row">{calendarDay(day.day)}</th>
              {[
                day.checks + day.loggerReadings,
                day.lowestC,
                day.longestGapHours,
                day.creditedHours,
                day.turns,
              ].map((figure, column) => (
                <td key={column} class="figure">
                  {figure}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row" colSpan={4}>
              Credited
            </th>
            <td class="figure">{creditedHours}</td>
            <td />
          </tr>
        </tfoot>
      </table>
    </details>
  );
}

function Further({ verdicts, timeZone }: { verdicts: readonly FurtherVerdict[]; timeZone: string }) {
  return (
    <>
      <h3>Further rules of the permit</h3>
      <ul>
        {verdicts.map((verdict) => (
          <li key={verdict.rule.code}>
            <strong>{plain(verdict.status)}</strong>
            {verdict.metAt && ` on ${moment(verdict.metAt, timeZone)}`}: {verdict.rule.title} (
            {citationOf(verdict.rule)}). Credited: {creditOf(verdict, verdict.required)}.
            <Reasons verdict={verdict} timeZone={timeZone} />
          </li>
        ))}
      </ul>
    </>
  );
}

const plain = (code: string) => code.replaceAll('-', ' ');

function creditOf(
  { creditedHours, creditedDays, turnsCredited }: OtherReading,
  { hours, days, turns }: ProcessVerdict['required'],
): string {
  const time = days === null ? `${creditedHours} of ${hours ?? '?'} h` : `${creditedDays} of ${days} days`;
  return turns === 0 ? time : `${time} and ${turnsCredited} of ${turns} turns`;
}
