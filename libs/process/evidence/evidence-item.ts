import type { Evidence, EvidenceKind, Span } from '../verdict.js';

export function item(
  kind: EvidenceKind,
  { fromMs, toMs }: Span,
  text: string,
  checkId: string | null = null,
): Evidence {
  return { fromMs, toMs, kind, text, checkId };
}

export function instant(atMs: number): Span {
  return { fromMs: atMs, toMs: atMs };
}
