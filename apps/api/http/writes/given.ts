type Given<T> = { [K in keyof T]?: Exclude<T[K], undefined> };

/** The fields that a change names; those left out stay as they are, those that are null are cleared. */
export function given<T extends object>(fields: T): Given<T> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as Given<T>;
}

/** Quantities as they were typed, laid over those typed before: a cleared one goes. */
export function enteredOver<T extends object>(
  before: T,
  typed: { [K in keyof T]?: T[K] | null | undefined },
) {
  const plain = JSON.parse(JSON.stringify({ ...before, ...given(typed) })) as Record<string, object | null>;
  return Object.fromEntries(Object.entries(plain).filter(([, quantity]) => quantity !== null));
}
