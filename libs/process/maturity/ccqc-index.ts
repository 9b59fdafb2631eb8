import { bandOf, keepsTo } from './judge.js';
import { fromMemory, type SampleFinding, sentences } from './findings.js';
import { parameterOf } from './parameters.js';
import { inUnit, type SampleResult, sayResult } from './results.js';
import { ccqcCarbonToNitrogen, type CcqcRating, ccqcRatings, ccqcSource, ccqcTables } from './tables/ccqc.js';

interface Rated {
  readonly group: 'A' | 'B';
  readonly rating: CcqcRating;
  readonly told: string;
}

/**
 * The rating of the CCQC index: C:N at most 25, then at least one test of group A and one of group B. The index does not
 * say what several tests that differ come to; here the lowest of them is the rating. Null where a sample has nothing of it.
 */
export function ccqcIndex(results: readonly SampleResult[]): SampleFinding | null {
  const rated = results.flatMap(ratedBy);
  if (rated.length === 0) return null;
  const ratio = results.find(({ parameter }) => parameter === 'carbon-to-nitrogen');
  const ratioKept = ratio ? keptRatio(ratio) : null;
  const groups = new Set(rated.map(({ group }) => group));
  const complete = ratioKept === true && groups.size === 2;
  const rating = ratioKept === false ? 'immature' : complete ? lowest(rated) : null;
  const lack = [
    ...(ratioKept === null ? [`C:N of at most ${ccqcCarbonToNitrogen}:1`] : []),
    ...(['A', 'B'] as const).filter((group) => !groups.has(group)).map((group) => `a test of group ${group}`),
  ];
  const by = [...(ratio ? [`C:N ${sayResult(ratio)}`] : []), ...rated.map(({ told }) => told)].join(', ');
  const told =
    rating === null
      ? `Compost Maturity Index: not rated, since it asks for ${lack.join(' and ')} as well (${ccqcSource.citation}).`
      : `Compost Maturity Index: ${rating}, by ${by} (${ccqcSource.citation}).`;
  return {
    ...{ parameter: 'ccqc-index', value: null, unit: null, qualifier: null },
    ...{ table: 'ccqc-2001-index', scale: 'CCQC Compost Maturity Index', limit: null },
    ...{ class: rating, state: rating === null ? 'unknown' : 'classed' },
    ...{ source: ccqcSource.citation, textStatus: ccqcSource.textStatus },
    text: sentences(told, choiceOf(ratioKept, rated), fromMemory(ccqcSource.textStatus)),
  };
}

function choiceOf(ratioKept: boolean | null, rated: readonly Rated[]): string | null {
  if (ratioKept === false)
    return `A C:N above ${ccqcCarbonToNitrogen}:1 is read as immature, whatever the tests say.`;
  const differ = new Set(rated.map(({ rating }) => rating)).size > 1;
  return differ ? 'Where tests differ the lowest of them is taken.' : null;
}

function ratedBy(result: SampleResult): Rated[] {
  const parameter = parameterOf(result.parameter);
  const table = ccqcTables.find(({ parameter: key }) => key === result.parameter);
  const figure = parameter && table && inUnit(result.value, result.unit, table.unit, parameter);
  const band = figure && bandOf(table.bands, figure, result.qualifier);
  const rating = ccqcRatings.find((name) => name === band?.name);
  if (!parameter || !table || !rating) return [];
  return [
    {
      group: table.group,
      rating,
      told: `${parameter.title} ${sayResult(result)} (${table.group}: ${rating})`,
    },
  ];
}

function keptRatio({ parameter: key, value, unit, qualifier }: SampleResult): boolean | null {
  const parameter = parameterOf(key);
  const figure = parameter ? inUnit(value, unit, ':1', parameter) : null;
  return figure && keepsTo({ is: 'at most', value: ccqcCarbonToNitrogen }, figure, qualifier);
}

const lowest = (rated: readonly Rated[]): CcqcRating | null =>
  ccqcRatings.findLast((rating) => rated.some((one) => one.rating === rating)) ?? null;
