/** What the database refused, told apart by SQLSTATE and by the name of the constraint that refused. */
export interface DatabaseRefusal {
  kind: 'unique' | 'foreign-key' | 'check' | 'exclusion' | 'not-null' | 'value' | 'retry' | 'unavailable';
  /** Name of the constraint, where one is named; ours are all named by hand. */
  constraint: string | null;
  message: string;
}

const KIND_BY_SQLSTATE: Record<string, DatabaseRefusal['kind']> = {
  '23505': 'unique',
  '23503': 'foreign-key',
  '23001': 'foreign-key',
  '23514': 'check',
  '23P01': 'exclusion',
  '23502': 'not-null',
  '22003': 'value',
  '22P02': 'value',
  '22P05': 'value',
  '22021': 'value',
  '22007': 'value',
  '22008': 'value',
  '40001': 'retry',
  '40P01': 'retry',
  '55P03': 'retry',
  '53300': 'unavailable',
  '57P01': 'unavailable',
  '57P02': 'unavailable',
  '57P03': 'unavailable',
};

const NETWORK_CODES = new Set(['ECONNREFUSED', 'ECONNRESET', 'EPIPE', 'ETIMEDOUT']);

interface Shape {
  code?: unknown;
  constraint?: unknown;
  message?: unknown;
  meta?: { driverAdapterError?: { cause?: Cause } };
  cause?: unknown;
}

interface Cause {
  originalCode?: string;
  originalMessage?: string;
  hint?: string;
  kind?: string;
  constraint?: { index?: string; fields?: string[] } | undefined;
}

/**
 * Reads an error of `pg` or of Prisma. Null when it is none of the database's doing.
 * Prisma hands on no constraint name for a CHECK or a trigger; it is then read from the hint, where the pool
 * puts it, or from PostgreSQL's own message.
 */
export function refusalOf(error: unknown): DatabaseRefusal | null {
  if (typeof error !== 'object' || error === null) return null;
  const shape = error as Shape;
  const message = typeof shape.message === 'string' ? shape.message : '';
  const cause = shape.meta?.driverAdapterError?.cause ?? (shape.cause as Cause | undefined);
  if (cause?.originalCode) {
    const kind = KIND_BY_SQLSTATE[cause.originalCode];
    const original = cause.originalMessage ?? message;
    return kind
      ? {
          kind,
          constraint: cause.constraint?.index ?? quotedConstraint(cause.hint ?? original),
          message: original,
        }
      : null;
  }
  if (typeof shape.code === 'string') {
    if (NETWORK_CODES.has(shape.code)) return { kind: 'unavailable', constraint: null, message };
    const kind = KIND_BY_SQLSTATE[shape.code];
    if (kind) {
      const named = typeof shape.constraint === 'string' ? shape.constraint : quotedConstraint(message);
      return { kind, constraint: named, message };
    }
  }
  return /timeout exceeded when trying to connect|Connection terminated/.test(message)
    ? { kind: 'unavailable', constraint: null, message }
    : null;
}

function quotedConstraint(message: string): string | null {
  return /constraint "([^"]+)"/.exec(message)?.[1] ?? null;
}
