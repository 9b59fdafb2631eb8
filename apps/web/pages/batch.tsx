import { useRoute } from 'preact-iso';
import { type AnyBatchRecord, recordOf } from '../../../libs/documents/batch-record/earlier.js';
import type { BatchRecord } from '../../../libs/documents/batch-record/record.js';
import { call } from '../api.js';
import { Folded } from '../folded.js';
import { day, kg } from '../figures.js';
import { Shown } from '../loading.js';
import { useData } from '../use-data.js';
import { BatchAdvice } from './batch-advice.js';
import { Mix } from './batch-mix.js';
import { WhatItNeeds } from './batch-needs.js';
import { Verdict } from './batch-verdict.js';

/** What may have changed since the record was sealed. */
interface BatchNow {
  stage: string;
  bay: string | null;
  stages: { stage: string; reason: string | null }[];
}

const INPUT_ASIDE = {
  'drop-off': '',
  amendment: ' (added)',
  'overs-in': ' (overs)',
  'merged-in': ' (merged in)',
} as const;

function standingOf(status: BatchRecord['status'], stage: string): string {
  if (status === 'signed') return 'Signed and sealed.';
  if (stage === 'merged') return 'All of it was put into another batch, and its record is closed.';
  return stage === 'condemned' ? 'It will not be released.' : 'Not signed: this is a draft of its record.';
}

async function load(id: string): Promise<{ value: BatchRecord; now: BatchNow }> {
  const [value, now] = await Promise.all([
    call<AnyBatchRecord>('GET', `/batches/${id}/record.json`),
    call<BatchNow>('GET', `/batches/${id}`),
  ]);
  return { value: recordOf(value), now };
}

/** One batch: its record, read off the same document that is printed and sealed. */
export function BatchPage() {
  const { id } = useRoute().params as { id: string };
  const batch = useData(id, () => load(id));
  return (
    <Shown of={batch}>
      {({ value, now }) => (
        <>
          <h1>Batch {value.batch.code}</h1>
          <p>
            {value.site.name}
            {now.bay ? `, bay ${now.bay}` : ''}. Stage: <strong>{now.stage}</strong>.{' '}
            {standingOf(value.status, now.stage)} {now.stages.at(-1)?.reason}
          </p>
          <p class="actions">
            <a href={`/api/batches/${id}/record.pdf`} target="_blank" rel="noreferrer">
              Record as PDF
            </a>
            <a href={`/api/batches/${id}/record.json`} target="_blank" rel="noreferrer">
              Record as JSON
            </a>
          </p>
          <BatchAdvice id={id} stage={now.stage} timeZone={value.site.timeZone} />
          {now.stage === 'building' && <WhatItNeeds id={id} />}
          <WhatWentIn record={value} />
          <Mix record={value} />
          <Verdict record={value} />
          <Gates record={value} />
        </>
      )}
    </Shown>
  );
}

function WhatWentIn({ record }: { record: BatchRecord }) {
  const { intake, balance } = record;
  return (
    <section>
      <h2>What went in</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Material</th>
            <th scope="col" class="figure">
              Mass, kg
            </th>
            <th scope="col" class="figure">
              of which estimated, kg
            </th>
          </tr>
        </thead>
        <tbody>
          {(balance?.inputs ?? []).map((input) => (
            <tr key={`${input.kind}${input.label}`}>
              <th scope="row">
                {input.label}
                {INPUT_ASIDE[input.kind]}
              </th>
              <td class="figure">{kg(input.massKg)}</td>
              <td class="figure">{kg(input.estimatedKg)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        Drop-offs: {intake.dropOffs}, {kg(intake.acceptedKg)} kg accepted; {kg(intake.pulledKg)} kg of rejects
        were pulled out before.
      </p>
    </section>
  );
}

function Gates({ record }: { record: BatchRecord }) {
  return (
    <section>
      <h2>Gates of release</h2>
      <ul class="gates">
        {record.gates.map((gate) => (
          <li key={gate.key}>
            <strong>{gate.state.replace('-', ' ')}</strong> <Folded text={gate.text} />
            {gate.overrideReason && <em> Overridden: {gate.overrideReason}</em>}
          </li>
        ))}
      </ul>
      {record.release && (
        <p>
          Signed by {record.release.signedBy} on {day(record.release.signedAt, record.site.timeZone)}:{' '}
          {record.release.statement}
        </p>
      )}
    </section>
  );
}
