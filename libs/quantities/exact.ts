import { Decimal } from 'decimal.js';

/**
 * Decimal arithmetic wide enough that no product of a typed number (at most 17 significant digits) and an exact
 * factor (at most 12) is ever rounded before the one rounding at the end, which is half to even.
 */
export const Exact = Decimal.clone({ precision: 60, rounding: Decimal.ROUND_HALF_EVEN });
export type Exact = Decimal;

/** The decimal a person typed: a JS number prints as the shortest decimal that reads back as itself. Throws RangeError unless finite. */
export function exactOf(value: number, what: string): Exact {
  if (!Number.isFinite(value)) throw new RangeError(`${what} must be a finite number, not ${value}`);
  return new Exact(value);
}

/** As `exactOf`, and zero or more. */
export function exactAmountOf(value: number, what: string): Exact {
  const exact = exactOf(value, what);
  if (exact.isNegative() && !exact.isZero())
    throw new RangeError(`${what} must not be negative, got ${value}`);
  return exact;
}

/** Rounds half to even to a whole number. Throws RangeError beyond ±(2^53 − 1), where a JS number is no longer exact. */
export function wholeOf(exact: Exact, what: string): number {
  const whole = exact.toDecimalPlaces(0, Decimal.ROUND_HALF_EVEN).toNumber();
  if (!Number.isSafeInteger(whole)) throw new RangeError(`${what} is too large to be kept exactly`);
  return whole === 0 ? 0 : whole; // never −0, which would print as "-0"
}

/** Accepts a stored amount: a whole, safe number of zero or more. Throws RangeError otherwise. */
export function requireStored(amount: number, what: string): number {
  if (!Number.isSafeInteger(amount) || amount < 0) {
    throw new RangeError(
      `${what} must be a whole number from 0 to ${Number.MAX_SAFE_INTEGER}, got ${amount}`,
    );
  }
  return amount;
}

/** Accepts a difference of stored amounts: whole and safe, and it may be below zero. Throws RangeError otherwise. */
export function requireWhole(amount: number, what: string): number {
  if (!Number.isSafeInteger(amount)) throw new RangeError(`${what} must be a whole number, got ${amount}`);
  return amount;
}
