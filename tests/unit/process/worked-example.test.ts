import { readFileSync } from 'node:fs';
import { evaluateProcess, processRule, type BatchFacts } from '#libs/process';
import { expect, it } from 'vitest';

const ms = (local: string) => Date.parse(`${local}-06:00`);

function probes(local: string, ...celsius: number[]) {
  const readings = celsius.map((each, index) => ({
    position: `core-${index + 1}`,
    depthMm: 450,
    temperatureDeciC: each * 10,
  }));
  return { id: local, occurredAtMs: ms(local), readings };
}

const facts: BatchFacts = {
  timeZone: 'America/Denver',
  rawAdditions: [
    { occurredAtMs: ms('2024-05-06T08:00'), what: 'food scraps and leaves' },
    { occurredAtMs: ms('2024-05-09T17:00'), what: 'food scraps' },
  ],
  checks: [
    probes('2024-05-07T08:00', 48, 52),
    probes('2024-05-08T08:00', 58, 61),
    probes('2024-05-09T08:00', 60, 63),
    probes('2024-05-10T08:00', 57, 60),
    probes('2024-05-11T09:00', 62, 64),
    probes('2024-05-13T07:00', 63, 66),
    probes('2024-05-14T08:00', 64, 65),
    probes('2024-05-15T08:00', 61, 62),
    probes('2024-05-16T08:00', 57, 59),
  ],
  turns: [],
};

it('is what docs/process.md prints', () => {
  const rule = processRule('us-503-pfrp-static-aerated')!;
  const verdict = evaluateProcess(rule, facts, ms('2024-05-16T12:00'));
  expect(verdict).toMatchObject({ status: 'met', metAtMs: ms('2024-05-16T07:00'), creditedHours: 73 });
  const page = readFileSync(new URL('../../../docs/process.md', import.meta.url), 'utf8');
  const told = verdict.evidence.map(({ kind, text }) => `- **${kind}**: ${text}`).join('\n');
  expect(page).toContain(told);
  for (const note of verdict.notes) expect(page).toContain(`- ${note}`);
});
