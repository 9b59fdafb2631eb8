import { useRoute } from 'preact-iso';
import { call } from '../api.js';
import { day, kg } from '../figures.js';
import { Shown } from '../loading.js';
import { useData } from '../use-data.js';

/** `/public/batch-records/:seal`. */
interface PublicRecord {
  seal: string;
  programme: string;
  site: string;
  timeZone: string;
  batch: string;
  onHold: boolean;
  begunAt: string;
  releasedAt: string | null;
  materials: { name: string; massKg: number; sharePercent: number | null; estimatedKg: number }[];
  verdict: { rule: string; citation: string; status: string; metAt: string | null } | null;
  cure: { daysDone: number; daysRequired: number } | null;
  samples: { occurredAt: string; kind: string; outcome: string }[];
  gates: { key: string; state: string; overridden: boolean }[];
  cautions: { topic: string; text: string; source: string }[];
  deference: string;
}

/** Of one batch of compost, for whoever holds a bag of it. */
export function RecordPage() {
  const { seal } = useRoute().params as { seal: string };
  const path = `/public/batch-records/${encodeURIComponent(seal)}`;
  const record = useData(seal, () => call<PublicRecord>('GET', path));
  return (
    <main>
      <Shown of={record}>{(value) => <Found record={value} />}</Shown>
    </main>
  );
}

function Found({ record }: { record: PublicRecord }) {
  const { batch, programme, site, timeZone, begunAt, releasedAt } = record;
  return (
    <>
      <h1>Compost of batch {batch}</h1>
      <p>
        {site}, {programme}. Begun {day(begunAt, timeZone)}
        {releasedAt ? `, released ${day(releasedAt, timeZone)}` : ''}.
      </p>
      {record.onHold && (
        <p role="alert">
          <strong>On hold.</strong> Something about this batch is being looked into. Do not spread, sow or
          pass it on before {programme} tells you that you may.
        </p>
      )}
      <Materials record={record} />
      <HowItWasMade record={record} />
      <section>
        <h2>Before you use it</h2>
        {record.cautions.map(({ topic, text, source }) => (
          <p key={topic}>
            <strong>{topic}.</strong> {text} <span class="faint">Source: {source}.</span>
          </p>
        ))}
      </section>
      <footer>
        <p>{record.deference}</p>
        <p class="faint seal">Seal of the full record: {record.seal}</p>
      </footer>
    </>
  );
}

function Materials({ record: { materials } }: { record: PublicRecord }) {
  return (
    <section>
      <h2>What it was made of</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Material</th>
            <th scope="col" class="figure">
              Mass, kg
            </th>
            <th scope="col" class="figure">
              Share, %
            </th>
          </tr>
        </thead>
        <tbody>
          {materials.map(({ name, massKg, sharePercent, estimatedKg }) => (
            <tr key={name}>
              <th scope="row">
                {name}
                {estimatedKg > 0 && (
                  <span class="faint">{estimatedKg < massKg ? ' (in part estimated)' : ' (estimated)'}</span>
                )}
              </th>
              <td class="figure">{kg(massKg)}</td>
              <td class="figure">{sharePercent}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="faint">Wet mass as it went in, with what was taken from earlier batches.</p>
    </section>
  );
}

function HowItWasMade({ record }: { record: PublicRecord }) {
  const { verdict, cure, samples, gates, timeZone } = record;
  const overridden = gates.filter((gate) => gate.overridden);
  return (
    <section>
      <h2>How it was made</h2>
      <p>
        {verdict
          ? `${verdict.rule} (${verdict.citation}): recorded criteria ${plain(verdict.status)}${verdict.metAt ? ` on ${day(verdict.metAt, timeZone)}` : ''}.`
          : 'No process rule was named for it.'}{' '}
        {cure
          ? `Cured ${cure.daysDone} days; ${cure.daysRequired} were asked for.`
          : 'No cure was asked for.'}
      </p>
      {samples.length === 0 ? (
        <p>No sample of it is recorded.</p>
      ) : (
        <ul>
          {samples.map(({ occurredAt, kind, outcome }) => (
            <li key={`${occurredAt}${kind}`}>
              {day(occurredAt, timeZone)}, {plain(kind)}: {outcome}
            </li>
          ))}
        </ul>
      )}
      {overridden.length > 0 && (
        <p>
          Released by a manager in spite of:{' '}
          {overridden.map(({ key, state }) => `${plain(key)} (${state})`).join(', ')}.
        </p>
      )}
    </section>
  );
}

const plain = (code: string) => code.replaceAll('-', ' ');
