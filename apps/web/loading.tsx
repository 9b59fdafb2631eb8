import type { ComponentChildren } from 'preact';
import type { Loaded } from './use-data.js';

export function Shown<T>({ of, children }: { of: Loaded<T>; children: (value: T) => ComponentChildren }) {
  if (of.state === 'loading') return <p role="status">Loading…</p>;
  if (of.state === 'failed') return <p role="alert">{of.reason}</p>;
  return <>{children(of.value)}</>;
}
