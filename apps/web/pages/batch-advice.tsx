import { call } from '../api.js';
import { Folded } from '../folded.js';
import { day, moment } from '../figures.js';
import { Shown } from '../loading.js';
import { useData } from '../use-data.js';

interface Source {
  title: string;
  status: string;
}

interface Said {
  key: string;
  text: string;
  source: Source;
}

interface Advice {
  key: string;
  title: string;
  urgency: 'now' | 'soon' | 'watch';
  seen: string[];
  because: string;
  source: Source;
  causes: (Said & { seen: string | null })[];
  actions: (Said & { cautions: Said[] })[];
}

interface Interval {
  earliest: string | null;
  latest: string | null;
}

interface Readiness {
  findings: { key: string; title: string; state: string; text: string; source: Source | null }[];
  outlook:
    | (Interval & {
        gates: (Interval & { gate: string; title: string; assumptions: string[] })[];
        notes: string[];
      })
    | null;
  notes: string[];
}

interface Told {
  advice: { advice: Advice[]; notes: string[] };
  readiness: Readiness;
}

async function load(id: string): Promise<Told> {
  const [advice, readiness] = await Promise.all([
    call<Told['advice']>('GET', `/batches/${id}/advice`),
    call<Readiness>('GET', `/batches/${id}/readiness`),
  ]);
  return { advice, readiness };
}

const urgencies = { now: 'Now', soon: 'Within a day or two', watch: 'At the next check' };

/** What to do now, whether it looks ready, and when it can be: only while something can still be done. */
export function BatchAdvice({ id, stage, timeZone }: { id: string; stage: string; timeZone: string }) {
  const told = useData(`${id} ${stage}`, () => load(id));
  return (
    <Shown of={told}>
      {({ advice, readiness }) => (
        <>
          <WhatToDo {...advice} stage={stage} />
          <Signs {...readiness} />
          {readiness.outlook && <WhenReady {...readiness} outlook={readiness.outlook} timeZone={timeZone} />}
        </>
      )}
    </Shown>
  );
}

const NOTHING = 'Nothing that is recorded calls for anything but the next check.';
const WHILE_BUILT = 'It is being built: see below what it still needs.';

function WhatToDo({ advice, notes, stage }: Told['advice'] & { stage: string }) {
  const isOpen = ['building', 'active', 'curing'].includes(stage);
  if (advice.length === 0 && !isOpen) return null;
  return (
    <section>
      <h2>What to do now</h2>
      {advice.length === 0 && <p>{stage === 'building' ? WHILE_BUILT : NOTHING}</p>}
      {advice.map((each) => (
        <OneAdvice key={each.key} advice={each} />
      ))}
      {advice.length > 0 && <p>{notes.join(' ')}</p>}
    </section>
  );
}

function OneAdvice({ advice }: { advice: Advice }) {
  const cautions = new Map(
    advice.actions.flatMap((action) => action.cautions.map(({ key, text }) => [key, text])),
  );
  return (
    <div role={advice.urgency === 'now' ? 'alert' : 'group'}>
      <h3>
        {advice.title} <small>{urgencies[advice.urgency]}</small>
      </h3>
      <p>{advice.seen.join(' ')}</p>
      <ol>
        {advice.actions.map((action) => (
          <li key={action.key}>{action.text}</li>
        ))}
      </ol>
      {cautions.size > 0 && (
        <>
          <p>Take care:</p>
          <ul>
            {[...cautions].map(([key, text]) => (
              <li key={key}>{text}</li>
            ))}
          </ul>
        </>
      )}
      <details>
        <summary>What may lie behind it, and who says so</summary>
        <p>
          {advice.because} <Cited source={advice.source} />
        </p>
        <ul>
          {advice.causes.map((cause) => (
            <li key={cause.key}>
              {cause.text} {cause.seen} <Cited source={cause.source} />
            </li>
          ))}
        </ul>
        <p>What to try comes from:</p>
        <ul>
          {advice.actions.map((action) => (
            <li key={action.key}>
              {action.text} <Cited source={action.source} />
            </li>
          ))}
        </ul>
      </details>
    </div>
  );
}

const statuses: Record<string, string> = {
  verified: '',
  mirror: ', read on a third-party copy',
  'from-memory': ', from memory',
};

function Cited({ source: { title, status } }: { source: Source }) {
  return (
    <small>
      ({title}
      {statuses[status]})
    </small>
  );
}

function Signs({ findings, notes }: Readiness) {
  if (findings.length === 0) return null;
  return (
    <section>
      <h2>Does it look ready?</h2>
      <ul class="gates">
        {findings.map(({ key, title, state, text, source }) => (
          <li key={key}>
            <strong>{state.replace('-', ' ')}</strong> {title}. <Folded text={text} />{' '}
            {source && <Cited source={source} />}
          </li>
        ))}
      </ul>
      <p>{notes.join(' ')}</p>
    </section>
  );
}

interface ReadyIn extends Readiness {
  outlook: NonNullable<Readiness['outlook']>;
  timeZone: string;
}

function WhenReady({ outlook, findings, notes: [standing], timeZone }: ReadyIn) {
  // where there is no date, the sentences after it say why
  const says = ({ earliest, latest }: Interval) => {
    if (earliest === null) return '';
    const from = moment(earliest, timeZone);
    if (latest === null) return `${from} at the earliest, with an open end.`;
    return latest === earliest ? `${from}.` : `between ${from} and ${moment(latest, timeZone)}.`;
  };
  const wholeOf = ({ earliest, latest }: Interval) =>
    earliest === null
      ? 'No date can be told: waiting alone does not bring it about.'
      : `If everything goes on as now: ${day(earliest, timeZone)} at the earliest${latest === null ? ', with an open end' : ''}.`;
  return (
    <section>
      <h2>When can it be ready?</h2>
      {findings.length === 0 && <p>{standing}</p>}
      {outlook.gates.length === 0 && outlook.earliest !== null ? (
        <p>Every gate is met.</p>
      ) : (
        <p>{wholeOf(outlook)}</p>
      )}
      <ul class="gates">
        {outlook.gates.map((gate) => (
          <li key={gate.gate}>
            <strong>{gate.title}</strong> {says(gate)} {gate.assumptions.join(' ')}
          </li>
        ))}
      </ul>
      <p>{outlook.notes.join(' ')}</p>
    </section>
  );
}
