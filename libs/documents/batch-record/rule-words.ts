import type { RuleName, TextStatus } from './record-monitoring.js';

const WORDINGS: Record<TextStatus, string> = {
  verified: 'read in the rule itself',
  parallel: 'read in a legal text that repeats it',
  secondary: 'read in an official page on it',
  'from-memory': 'from memory: check the text',
};

export function wordingOf({ textStatus, fromMemory }: RuleName): string {
  return [WORDINGS[textStatus], ...fromMemory.map((part) => `from memory: ${part}`)].join('; ');
}

/** Where a citation stands it says what nobody has read in it. */
export function citationOf({ citation, textStatus, fromMemory }: RuleName): string {
  if (textStatus === 'from-memory') return `${citation}, from memory`;
  return fromMemory.length === 0 ? citation : `${citation}, in part from memory`;
}
