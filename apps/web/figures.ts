/** A local day of a site, in the reader's language. */
export function day(instant: string, timeZone: string): string {
  return new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeZone }).format(new Date(instant));
}

/** A local moment of a site. */
export function moment(instant: string, timeZone: string): string {
  return new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short', timeZone }).format(
    new Date(instant),
  );
}

/** Kilograms to the gram, grouped. */
export function kg(mass: number): string {
  return new Intl.NumberFormat(undefined, { minimumFractionDigits: 3, maximumFractionDigits: 3 }).format(
    mass,
  );
}
