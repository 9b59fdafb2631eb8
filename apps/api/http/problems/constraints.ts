import type { DatabaseRefusal } from '#libs/database';
import { kgOf } from '#libs/quantities';
import { invalid, Problem, type ProblemCode } from './catalogue.js';

/** What the database refuses by name, and how that is answered. */
const byConstraint: Record<string, ProblemCode> = {
  records_keep: 'record-kept',
  drop_off_revision_follows: 'changed-meanwhile',
  drop_off_not_voided: 'drop-off-voided',
  drop_off_covers_assignments: 'assigned-already',
  assignment_within_accepted: 'beyond-what-is-left',
  assignment_lies_here: 'drop-off-not-here',
  haul_lot_of_hub: 'drop-off-not-here',
  haul_lot_once: 'drop-off-not-here',
  haul_lot_whole: 'conflict',
  haul_stands: 'conflict',
  haul_to_a_yard: 'conflict',
  haul_received_once: 'haul-received',
  haul_not_received: 'haul-received',
  haul_receipt_unassigned: 'conflict',
  drop_off_share_stands: 'conflict',
  amendment_overs_available: 'overs-beyond-what-is-left',
  screening_covers_overs: 'overs-beyond-what-is-left',
  batch_is_building: 'not-building',
  batch_takes_inputs: 'stage-closed',
  batch_takes_samples: 'stage-closed',
  batch_takes_screenings: 'stage-closed',
  batch_lies_there: 'stage-closed',
  condemned_gives_no_compost: 'stage-closed',
  batch_covers_outputs: 'balance-exceeded',
  batch_is_curing: 'stage-closed',
  batch_takes_merges: 'stage-closed',
  batch_merges_on: 'stage-closed',
  batch_on_hold: 'batch-on-hold',
  batch_hold_one: 'batch-on-hold',
  batch_merge_once: 'stage-closed',
  batch_merge_unscreened: 'conflict',
  batch_merge_after_records: 'conflict',
  batch_merge_within_batch: 'balance-exceeded',
  batch_is_released: 'stage-closed',
  batch_not_released: 'stage-closed',
  batch_release_signed: 'stage-order',
  release_after_records: 'conflict',
  batch_stage_order: 'stage-order',
  batch_stage_time: 'stage-order',
  batch_stage_pk: 'stage-order',
  release_pk: 'batch-released',
  bay_free: 'bay-occupied',
  bay_stay_one_bay: 'bay-occupied',
  device_bay_alone: 'bay-claimed',
  shift_one_open: 'shift-open',
  permit_one_at_a_time: 'permit-overlap',
  diversion_report_pk: 'taken',
  diversion_report_period_unique: 'report-issued',
  diversion_report_years_apart: 'report-issued',
};

/** SQLSTATE class to answer, where the constraint has no answer of its own. */
const byKind: Record<DatabaseRefusal['kind'], ProblemCode> = {
  unique: 'taken',
  'foreign-key': 'invalid',
  check: 'invalid',
  exclusion: 'conflict',
  'not-null': 'invalid',
  value: 'invalid',
  retry: 'busy',
  unavailable: 'busy',
};

/** Details of these are our own sentences, written in the migrations; others would tell table names. */
const spoken = new Set(Object.keys(byConstraint).filter((name) => !name.endsWith('_pk')));

export function problemOf(refusal: DatabaseRefusal): Problem {
  const code = byConstraint[refusal.constraint ?? ''] ?? byKind[refusal.kind];
  const own = refusal.constraint !== null && spoken.has(refusal.constraint) && refusal.kind === 'check';
  if (own) return new Problem(code, sentence(refusal.message));
  if (code === 'invalid' && refusal.constraint) {
    return invalid('', `Refused by the rule "${refusal.constraint}".`);
  }
  return code === 'invalid' ? invalid('', 'holds a value that cannot be kept') : new Problem(code);
}

/** The database counts grams; people weigh in kilograms, and everything else here speaks of those. */
function sentence(message: string): string {
  const line = message.replace(/^.*ERROR:\s*/s, '').split('\n')[0] ?? message;
  const text = line.replaceAll(/\b(\d+) g\b/g, (_, grams: string) => `${kgOf(Number(grams))} kg`);
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
