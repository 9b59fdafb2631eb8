import { rangeInWords, spoken } from '../../../libs/documents/batch-record/mix-words.js';
import {
  MIX_FIGURES,
  type MixFigure,
  type MixTarget,
} from '../../../libs/documents/batch-record/record-mix.js';
import { call } from '../api.js';
import { Shown } from '../loading.js';
import { useData } from '../use-data.js';

interface Said {
  text: string;
}

interface Portion {
  material: string;
  name: string;
  massKg: number;
}

interface Needs {
  state: string;
  summary: string;
  steps: string[];
  targets: MixTarget[];
  afterMeasured: Record<MixFigure, number | null> | null;
  unmet: Said[];
  wouldHelp: (Said & Portion)[];
  together: Portion[];
  leftOut: (Said & { material: string })[];
  additions: Portion[];
  cautions: (Said & { source: string; materials: string[] })[];
  notes: string[];
}

/** What to add of what lies at the yard, while a batch is being built. It is worked out, and decides nothing. */
export function WhatItNeeds({ id }: { id: string }) {
  const needs = useData(id, () => call<Needs>('GET', `/batches/${id}/additions`));
  return (
    <section>
      <h2>What it still needs</h2>
      <Shown of={needs}>{(value) => <Answer needs={value} />}</Shown>
    </section>
  );
}

function Answer({ needs }: { needs: Needs }) {
  const { steps, summary, unmet, wouldHelp, together, leftOut, cautions, notes, targets } = needs;
  const nameOf = (code: string) => needs.additions.find(({ material }) => material === code)?.name ?? code;
  return (
    <>
      {steps.length === 0 ? <p>{summary}</p> : <p>Add, and mix well:</p>}
      {steps.length > 0 && (
        <ul>
          {steps.map((step) => (
            <li key={step}>
              <strong>{step}</strong>
            </li>
          ))}
        </ul>
      )}
      <Then needs={needs} />
      <List items={unmet} />
      {wouldHelp.length > 0 && <p>Any one of these would make it possible:</p>}
      <List items={wouldHelp} />
      {together.length > 0 && (
        <p>
          These together would make it possible:{' '}
          {together.map(({ name, massKg }) => `${String(massKg)} kg of ${name}`).join(', ')}.
        </p>
      )}
      {cautions.length > 0 && (
        <>
          <h3>Take care</h3>
          <ul>
            {cautions.map(({ text, source, materials }) => (
              <li key={text}>
                <strong>{materials.map(nameOf).join('; ')}</strong> {text} <small>({source})</small>
              </li>
            ))}
          </ul>
        </>
      )}
      {notes.length > 0 && (
        <>
          <h3>Good to know</h3>
          <List items={notes.map((text) => ({ text }))} />
        </>
      )}
      {(leftOut.length > 0 || targets.length > 0) && (
        <details>
          <summary>What was asked, and what was not reckoned with</summary>
          <ul>
            {targets.map((target) => (
              <li key={target.figure}>
                {spoken(target.figure, rangeInWords(target))} <small>({target.source})</small>
              </li>
            ))}
          </ul>
          <List items={leftOut} />
        </details>
      )}
    </>
  );
}

function Then({ needs: { steps, afterMeasured } }: { needs: Needs }) {
  if (steps.length === 0 || !afterMeasured) return null;
  const told = MIX_FIGURES.flatMap((figure) => {
    const value = afterMeasured[figure];
    return value === null ? [] : [spoken(figure, value)];
  });
  return <p>It would then be: {told.join(', ')}.</p>;
}

function List({ items }: { items: readonly Said[] }) {
  if (items.length === 0) return null;
  return (
    <ul>
      {items.map(({ text }) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  );
}
