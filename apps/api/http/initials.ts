/** "W. A." of "Wren Alder": a record that is handed on shows no full names but the signature's. */
export function initialsOf(displayName: string | undefined): string {
  const words = (displayName ?? '').split(/\s+/).filter((word) => word !== '');
  return words.length === 0
    ? '?'
    : words.map((word) => `${String.fromCodePoint(word.codePointAt(0) ?? 63).toUpperCase()}.`).join(' ');
}
