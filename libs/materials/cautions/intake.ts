import type { MaterialTrait } from '../figures.js';

export const intakeNoteCodes = ['animal-product', 'herbicide-risk', 'caustic'] as const;
export type IntakeNoteCode = (typeof intakeNoteCodes)[number];

export interface IntakeNote {
  readonly code: IntakeNoteCode;
  readonly text: string;
}

/** The permit of the day, and whether it leaves the material in. */
export interface PermitWord {
  readonly reference: string;
  readonly allowsMaterial: boolean;
}

/**
 * What is worth saying while whoever brought a lot is still there: what to ask of it, and where it must not go. The rest
 * is said of the mix. Sources and full texts are those of `cautionsOf`.
 */
export function notesOnIntake(traits: readonly MaterialTrait[], permit: PermitWord | null): IntakeNote[] {
  return intakeNoteCodes
    .filter((code) => traits.includes(code))
    .map((code) => ({ code, text: textOf(code, permit) }));
}

function textOf(code: IntakeNoteCode, permit: PermitWord | null): string {
  if (code === 'animal-product') {
    return `Draws animals: cover it at once, and use it only where permit and process rule allow. ${permitWords(permit)}`;
  }
  return code === 'herbicide-risk'
    ? 'May carry persistent herbicide: ask whether the lawn, field or pasture was sprayed.'
    : 'Burns skin and eyes, and embers start fires: cold ash of untreated wood only, kept apart.';
}

function permitWords(permit: PermitWord | null): string {
  if (!permit) return 'No permit of that day is on record.';
  return permit.allowsMaterial
    ? `Permit ${permit.reference} as recorded does not leave it out; its conditions decide.`
    : `Permit ${permit.reference} as recorded does not list it.`;
}
