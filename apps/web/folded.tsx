import { folded } from './fold.js';

/** A text of several sentences: of a long one the first, and the rest on asking. */
export function Folded({ text }: { text: string }) {
  const [first, rest] = folded(text);
  if (rest === '') return <>{first}</>;
  return (
    <>
      {first}
      <details>
        <summary>What it rests on</summary>
        <p>{rest}</p>
      </details>
    </>
  );
}
