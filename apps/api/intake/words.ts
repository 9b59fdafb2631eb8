import { intakeNoteCodes } from '#libs/materials';

/** Who brought it: a kind, never a name. */
export const depositors = [
  'household',
  'business',
  'school',
  'institution',
  'public-works',
  'landscaper',
  'garden',
  'other',
] as const;
export type Depositor = (typeof depositors)[number];

/** What does not belong in it. */
export const contaminants = [
  'film-plastic',
  'rigid-plastic',
  'compostable-plastic',
  'foam',
  'glass',
  'metal',
  'coated-paper',
  'textiles',
  'treated-wood',
  'stones-and-soil',
  'pet-waste',
  'meat-and-fat',
  'sprayed-plants',
  'diseased-plants',
  'hazardous',
  'mixed',
  'other',
] as const;
export type Contaminant = (typeof contaminants)[number];

/** Where a reject went. */
export const destinations = ['landfill', 'recycling', 'returned', 'other-composting'] as const;
export type Destination = (typeof destinations)[number];

/** Where a lot is that went into no batch; `elsewhere`: somebody else composts it. */
export const places = ['hub', 'road', 'yard', 'elsewhere'] as const;
export type Place = (typeof places)[number];

export const warningCodes = [
  'zero-weight',
  'scale-division',
  'container-light',
  'container-heavy',
  'household-large',
  'lot-large',
  'material-not-on-permit',
  'no-permit',
  ...intakeNoteCodes,
  'before-site-opened',
  'recorded-late',
  'before-shift',
  'shift-counted',
  'retired',
  'repeated-line',
  'left-over',
] as const;
export type WarningCode = (typeof warningCodes)[number];
