import {
  type Addition,
  type AdditionsAnswer,
  type Candidate,
  type MaterialFigures,
  type Mix,
  mixOf,
  type MixPart,
} from '#libs/materials';
import { kgOf, litresOf } from '#libs/quantities';
import type { BayFacts } from '../sites/site-facts.service.js';
import { notesOn } from './additions-notes.js';
import { unmetWords } from './additions-words.js';
import type {
  AdditionDto,
  AdditionsDto,
  HelpDto,
  LeftOutDto,
  MixThenDto,
  PortionDto,
} from './additions.dto.js';
import type { Asked } from './asked.js';
import { leftOutWords, summaryOf } from './additions-summary.js';
import { cautionsIn, eachOfMix, rounded, standingOf } from './mix-view.js';
import { inSentence, kgWords, listed, portionWords } from './portions.js';

type Named = (code: string) => MaterialFigures;

/** The answer to what to add, in kilograms, litres and sentences. `bay` is where the batch lies. */
export function additionsView(asked: Asked, answer: AdditionsAnswer, bay: BayFacts | null): AdditionsDto {
  const { question, permit, notListed } = asked;
  const named = namesIn(asked);
  const added = answer.additions.map(({ materialCode, massG }): MixPart => {
    return { material: named(materialCode), massG, estimatedG: 0 };
  });
  const steps = answer.additions.flatMap((one) => stepOf(one, named, question.candidates));
  return {
    ...base(asked),
    state: answer.state,
    summary: summaryOf(asked, answer.state, steps),
    steps,
    additions: answer.additions.map((one) => additionView(one, named, question.candidates)),
    after: mixThen(answer.after),
    afterMeasured: mixThen(answer.afterMeasured),
    missedMeasured: [...answer.missedMeasured],
    cost: answer.cost === null ? null : Math.round(answer.cost * 100) / 100,
    costUnknown: [...answer.costUnknown],
    unmet: answer.unmet.map((unmet) => ({
      ...{ figure: unmet.target.figure, nearest: rounded(unmet.nearest), text: unmetWords(unmet) },
    })),
    wouldHelp: answer.wouldHelp.map((help) => helpView(help, named)),
    together: answer.together.map((one) => portion(one, named)),
    leftOut: [
      ...answer.leftOut.map(({ materialCode, why, missing }): LeftOutDto => {
        const figures = missing.map(({ figure }) => figure);
        const text = leftOutWords(named(materialCode).name, why, figures);
        return { material: materialCode, why, missing: figures, text };
      }),
      ...notListed.map(({ code, name }): LeftOutDto => {
        const text = leftOutWords(name, 'not-listed', []);
        return { material: code, why: 'not-listed', missing: [], text };
      }),
    ],
    notJudged: [...answer.notJudged],
    cautions: cautionsIn(added, permit),
    notes: notesOn(asked, answer, added, bay),
  };
}

/** Of a batch that is no longer built: how it stood, and that nothing is to be added to its mix. */
export function closedView(asked: Asked): AdditionsDto {
  return { ...base(asked), state: 'closed', summary: summaryOf(asked, 'closed', []) };
}

function base({ question, built, ask }: Asked): Omit<AdditionsDto, 'state' | 'summary'> {
  const mix = mixOf(question.parts);
  return {
    ...ask,
    figuresAsOf: built.leftAt?.toISOString() ?? null,
    targets: question.targets.map((target) => standingOf(target, mix)),
    ...{ steps: [], additions: [], after: null, afterMeasured: null, missedMeasured: [] },
    ...{ cost: null, costUnknown: [], unmet: [], wouldHelp: [], together: [], leftOut: [] },
    ...{ notJudged: [], cautions: [], notes: [] },
  };
}

function namesIn({ question }: Asked): Named {
  const { parts, candidates, obtainable } = question;
  const all = [
    ...obtainable,
    ...parts.map((part) => part.material),
    ...candidates.map((one) => one.material),
  ];
  const byCode = new Map(all.map((material) => [material.code, material]));
  return (code) => {
    const material = byCode.get(code);
    if (!material) throw new Error(`${code} was not in the question`);
    return material;
  };
}

function measuredOf({ measured, materialCode }: Addition, candidates: readonly Candidate[]) {
  const measure = candidates.find(({ material }) => material.code === materialCode)?.measure;
  if (!measured || !measure) return null;
  return { ...measure, halves: measured.halves, massG: measured.massG };
}

/** None where measuring out in half containers leaves nothing of it. */
function stepOf(addition: Addition, named: Named, candidates: readonly Candidate[]): string[] {
  const measured = measuredOf(addition, candidates);
  if (measured?.halves === 0) return [];
  const { materialCode, massG, volumeMl } = addition;
  const words = portionWords({ name: named(materialCode).name, massG, volumeMl, measured });
  const there = candidates.find(({ material }) => material.code === materialCode)?.availableG ?? null;
  return [there !== null && massG >= Math.floor(there) ? `all ${words} that lie there` : words];
}

function additionView(addition: Addition, named: Named, candidates: readonly Candidate[]): AdditionDto {
  const measured = measuredOf(addition, candidates);
  return {
    ...portion(addition, named),
    measured: measured && {
      container: measured.code,
      count: measured.halves / 2,
      volumeL: litresOf(measured.volumeMl),
      massKg: kgOf(measured.massG),
    },
    cost: addition.cost === null ? null : Math.round(addition.cost * 100) / 100,
  };
}

function portion(
  { materialCode, massG, volumeMl }: { materialCode: string; massG: number; volumeMl: number | null },
  named: Named,
): Pick<PortionDto, keyof PortionDto> {
  return {
    ...{ material: materialCode, name: named(materialCode).name, massKg: kgOf(massG) },
    volumeL: volumeMl === null ? null : litresOf(volumeMl),
  };
}

function helpView(help: AdditionsAnswer['wouldHelp'][number], named: Named): HelpDto {
  const alongside = help.alongside.map((one) => portion({ ...one, volumeMl: null }, named));
  const beside = help.alongside.map(({ materialCode, massG }) => {
    return `${kgWords(massG)} of ${inSentence(named(materialCode).name)}`;
  });
  const { name } = named(help.materialCode);
  const amount = portionWords({ name, massG: help.massG, volumeMl: help.volumeMl, measured: null });
  const weight = help.volumeMl === null ? '' : `, about ${kgWords(help.massG)}`;
  const rest = beside.length === 0 ? '' : `, with ${listed(beside, 'and')} that lie there`;
  return { ...portion(help, named), alongside, text: `${amount}${weight}${rest}` };
}

function mixThen(mix: Mix | null): MixThenDto | null {
  if (mix === null) return null;
  return {
    massKg: kgOf(Math.round(mix.massG)),
    volumeL: mix.volumeMl === null ? null : litresOf(mix.volumeMl),
    ...eachOfMix((figure) => rounded(mix.value[figure])),
  };
}
