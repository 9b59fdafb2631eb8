import { sayList } from '../words.js';
import type { MixAsked } from './facts.js';
import type { Finding } from './finding.js';
import type { Look } from './look.js';

/** While a batch is built, what of its mix is not as it is asked for, and what of it cannot be told. */
export function mixAsItIsBuilt({ facts: { stage, mix } }: Look): Finding[] {
  if (stage !== 'building' || mix === null) return [];
  const unknown = mix.asked.filter(({ standing }) => standing === 'unknown');
  const missed = mix.asked.filter(({ standing }) => standing === 'below' || standing === 'above');
  return [
    ...finding({ key: 'mix-missed', urgency: 'soon' }, missed, missWords),
    ...finding({ key: 'mix-unknown', urgency: 'watch' }, unknown, unknownWords),
  ];
}

function finding(
  of: Pick<Finding, 'key' | 'urgency'>,
  asked: readonly MixAsked[],
  words: (one: MixAsked) => string,
): Finding[] {
  const [first] = asked;
  return first ? [{ ...of, seen: asked.map(words), because: because(asked), source: first.source }] : [];
}

/** A figure that rounding puts on the limit is told by the limit. */
function missWords({ name, unit, min, max, value, standing }: MixAsked): string {
  const limit = standing === 'above' ? max : min;
  const isHidden =
    value !== null && limit !== null && (standing === 'above' ? value <= limit : value >= limit);
  const told = isHidden ? `a little ${standing} ${String(limit)}` : String(value);
  const asked = rangeWords({ min, max, unit });
  return `Its ${name} is ${told}${unit} by the typical figures of its materials; asked for: ${asked}.`;
}

const unknownWords = ({ name }: MixAsked): string => `Its ${name} is not known.`;

/** Each source once, with all that it asks. */
function because(asked: readonly MixAsked[]): string {
  const titles = [...new Set(asked.map(({ source }) => source.title))];
  return titles
    .map((title) => {
      const of = asked.filter(({ source }) => source.title === title);
      return `${title} asks for ${sayList(of.map((one) => `${one.name} ${rangeWords(one)}`))}.`;
    })
    .join(' ');
}

function rangeWords({ min, max, unit }: Pick<MixAsked, 'min' | 'max' | 'unit'>): string {
  if (min === null) return `up to ${String(max)}${unit}`;
  return max === null ? `from ${String(min)}${unit}` : `${String(min)} to ${String(max)}${unit}`;
}
