import type { TextStatus } from '../rule.js';
import type { ParameterKey } from './parameters.js';

interface Published {
  readonly code: string;
  readonly title: string;
  readonly parameter: ParameterKey;
  /** The table's own unit: one of the parameter's. */
  readonly unit: string;
  /** The document and section. */
  readonly citation: string;
  readonly textStatus: TextStatus;
  /** Where the figures were read. */
  readonly textSource: string;
  /** A choice made where the table is silent; null where there was none to make. */
  readonly choice: string | null;
}

/** A class of a table that rises from its first class to its last. */
export interface Band {
  readonly name: string;
  /** The edge to the next class; Infinity for the last. */
  readonly to: number;
  /** Whether the edge itself is still in this class. */
  readonly withEdge: boolean;
}

export interface ClassTable extends Published {
  readonly bands: readonly Band[];
}

export const boundKinds = ['at most', 'below', 'at least', 'above'] as const;

export interface Bound {
  readonly is: (typeof boundKinds)[number];
  readonly value: number;
}

export interface LimitTable extends Published {
  readonly limit: Bound;
}

export type Table = ClassTable | LimitTable;

/** Of a whole document: what its tables share. */
export type Source = Pick<Published, 'citation' | 'textStatus' | 'textSource'>;

export const upTo = (to: number, name: string): Band => ({ name, to, withEdge: true });
export const under = (to: number, name: string): Band => ({ name, to, withEdge: false });
export const rest = (name: string): Band => ({ name, to: Infinity, withEdge: true });

export const sharedEdge = 'A figure on an edge that two classes share is put into the less stable of them.';
