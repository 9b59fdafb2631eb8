import type { MassBasis } from '#libs/accounting';
import type { Mass, Volume } from '#libs/quantities';
import type { Contaminant, Depositor, Destination, WarningCode } from './words.js';

/** Exactly one form: gross with a known container, gross with a tare, or net. */
export interface EnteredWeight {
  gross?: Mass;
  tare?: Mass;
  net?: Mass;
  containerId?: string;
}

/** Full ones, of a known volume. */
export interface CountedContainers {
  containerId: string;
  count: number;
}

export interface EnteredReject {
  contaminant: Contaminant;
  mass: Mass;
  wentTo: Destination;
}

/** What somebody says of a lot, before it is held against anything. */
export interface LotEntry {
  siteId: string;
  material: string;
  depositor: Depositor;
  weight?: EnteredWeight;
  volume?: Volume;
  containers?: CountedContainers;
  rejects?: readonly EnteredReject[];
  instrumentId?: string;
  note?: string;
  /** RFC 3339; now, if left out. */
  occurredAt?: string;
  /** That of the site, if left out. */
  jurisdictionId?: string;
  shiftId?: string;
}

/** Something to look at again. It is kept with the lot and refuses nothing. */
export interface Warning {
  code: WarningCode;
  text: string;
  /** JSON Pointer into the entry, where one field is meant. */
  pointer?: string;
}

export interface Reject {
  contaminant: Contaminant;
  massG: number;
  wentTo: Destination;
  entered: { mass: Mass };
}

/** The amount of a lot, weighed or estimated. */
export interface Amount {
  basis: MassBasis;
  grossG: number | null;
  tareG: number | null;
  netG: number;
  volumeMl: number | null;
  densityKgM3: number | null;
  densitySource: string | null;
  containerId: string | null;
  entered: { weight?: EnteredWeight; volume?: Volume; containers?: CountedContainers };
}

/** All facts of a lot as one revision states them. */
export interface LotFacts extends Amount {
  occurredAt: Date;
  material: string;
  jurisdictionId: string;
  depositor: Depositor;
  rejectedG: number;
  acceptedG: number;
  /** The receipt of the haul that it was weighed with. */
  haulReceiptId: string | null;
  instrumentId: string | null;
  note: string | null;
  warnings: Warning[];
  rejects: Reject[];
}

export interface NewLot extends LotFacts {
  id: string;
  siteId: string;
  shiftId: string | null;
  /** Hexadecimal. */
  bodySha256: string;
}
