import { type Mix2, mixOfSecond } from './earlier-mix.js';
import {
  type AcceptedMaterial,
  type Balance,
  BATCH_RECORD_SCHEMA,
  type BatchRecord,
  type Check,
  type Cure,
  type Permit,
  type Sample,
} from './record.js';
import type { ProcessRequirement, ProcessVerdict, Reading, RuleName } from './record-monitoring.js';

type Requirement1 = Omit<
  ProcessRequirement,
  | 'hotHoursBeforeTurn'
  | 'thresholdStrict'
  | 'peak'
  | 'average'
  | 'leastMoisturePercent'
  | 'carbonToNitrogen'
  | 'zones'
>;
type Verdict1 = Omit<
  ProcessVerdict,
  'rule' | 'purpose' | 'required' | 'days' | 'conditions' | 'cautions' | 'otherReading'
> & { rule: Omit<RuleName, 'version' | 'fromMemory'>; required: Requirement1 };
type Sample1 = Omit<Sample, 'results' | 'findings' | 'warnings'> & {
  value: number | null;
  unit: string | null;
};
type Check1 = Omit<Check, 'readings' | 'signs' | 'texture' | 'inputsVisible'> & {
  readings: Omit<Reading, 'zone'>[];
};

type Material3 = Omit<AcceptedMaterial, 'sharedKg'>;

/** The third form, as it was sealed before hauls, merged batches, measured piles and holds. */
export type BatchRecord3 = Omit<
  BatchRecord,
  'schema' | 'intake' | 'merges' | 'piles' | 'balance' | 'holds'
> & {
  schema: 'heapwright/batch-record/3';
  intake: Omit<BatchRecord['intake'], 'sharedKg' | 'materials'> & { materials: Material3[] };
  balance: Omit<Balance, 'sharedKg'> | null;
};

/** The second form, as it was sealed before each figure of a mix had its range and its own source. */
export type BatchRecord2 = Omit<BatchRecord3, 'schema' | 'permit' | 'mix'> & {
  schema: 'heapwright/batch-record/2';
  permit: Omit<Permit, 'mixTargets'> | null;
  mix: Mix2 | null;
};

/** The first form, as it was sealed before rules had versions. */
export type BatchRecord1 = Omit<
  BatchRecord2,
  'schema' | 'permit' | 'checks' | 'loggers' | 'verdict' | 'furtherVerdicts' | 'cure' | 'samples'
> & {
  schema: 'heapwright/batch-record/1';
  permit: Omit<Permit, 'furtherRules' | 'mixTargets'> | null;
  checks: Check1[];
  verdict: Verdict1 | null;
  cure: Omit<Cure, 'notes'> | null;
  samples: Sample1[];
};

/** A record of whatever form it was sealed in. */
export type AnyBatchRecord = BatchRecord | BatchRecord3 | BatchRecord2 | BatchRecord1;

/**
 * A record of any form, readable as one of the latest: what an earlier one does not tell is null or empty. A sealed
 * record itself stays as it is; this is for drawing it.
 */
export function recordOf(document: AnyBatchRecord): BatchRecord {
  switch (document.schema) {
    case 'heapwright/batch-record/1':
      return fourth(third(second(document)));
    case 'heapwright/batch-record/2':
      return fourth(third(document));
    case 'heapwright/batch-record/3':
      return fourth(document);
    case BATCH_RECORD_SCHEMA:
      return document;
  }
}

function fourth({ intake, balance, ...record }: BatchRecord3): BatchRecord {
  const materials = intake.materials.map((material) => ({ ...material, sharedKg: 0 }));
  return {
    ...record,
    schema: BATCH_RECORD_SCHEMA,
    intake: { ...intake, sharedKg: 0, materials },
    balance: balance && { ...balance, sharedKg: 0 },
    ...{ merges: [], piles: [], holds: [] },
  };
}

function third({ permit, mix, ...record }: BatchRecord2): BatchRecord3 {
  return {
    ...record,
    schema: 'heapwright/batch-record/3',
    permit: permit && { ...permit, mixTargets: [] },
    mix: mix && mixOfSecond(mix),
  };
}

function second(document: BatchRecord1): BatchRecord2 {
  const { permit, checks, verdict, cure, samples } = document;
  return {
    ...document,
    schema: 'heapwright/batch-record/2',
    permit: permit && { ...permit, furtherRules: [] },
    checks: checks.map((check) => ({
      ...check,
      ...{ signs: null, texture: null, inputsVisible: null },
      readings: check.readings.map((reading) => ({ ...reading, zone: null })),
    })),
    loggers: [],
    verdict: verdict && verdictOf(verdict),
    furtherVerdicts: [],
    cure: cure && { ...cure, notes: [] },
    samples: samples.map(sampleOf),
  };
}

function verdictOf(verdict: Verdict1): ProcessVerdict {
  return {
    ...verdict,
    rule: { ...verdict.rule, version: null, fromMemory: [] },
    purpose: null,
    required: {
      ...verdict.required,
      ...{ hotHoursBeforeTurn: null, thresholdStrict: false, peak: null, average: null },
      ...{ leastMoisturePercent: null, carbonToNitrogen: null, zones: 1 },
    },
    ...{ days: [], conditions: [], cautions: [], otherReading: null },
  };
}

/** What a figure of then was of was not said, so that no table can be held against it: it is told in words. */
function sampleOf({ value, unit, finding, ...sample }: Sample1): Sample {
  const figure = value === null ? [] : [[String(value), ...(unit === null ? [] : [unit])].join(' ')];
  const words = [...figure, ...(finding === null ? [] : [finding])];
  return {
    ...sample,
    finding: words.length === 0 ? null : words.join('; '),
    ...{ results: [], findings: [], warnings: [] },
  };
}
