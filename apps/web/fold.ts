/** What is read at a glance, in characters: some four lines on a telephone. */
const AT_A_GLANCE = 200;

/** The first sentence and what comes after it; the whole and nothing of what is short, or is one sentence. */
export function folded(text: string): [first: string, rest: string] {
  if (text.length <= AT_A_GLANCE) return [text, ''];
  // a sentence ends in a word and not in an initial: "U.S. EPA" goes on
  const end = /[a-z0-9)%]\. (?=[A-Z0-9])/.exec(text);
  return end === null ? [text, ''] : [text.slice(0, end.index + 2), text.slice(end.index + 3)];
}
