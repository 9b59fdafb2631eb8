export type { CautionCode, MaterialCaution } from './caution.js';
export { type CautionContext, type CautionPart, cautionsOf } from './cautions.js';
export { type IntakeNote, type IntakeNoteCode, intakeNoteCodes, notesOnIntake } from './intake.js';
