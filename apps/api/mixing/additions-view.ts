import {
  type Addition,
  type AdditionsAnswer,
  type Candidate,
  type MaterialFigure,
  type MaterialFigures,
  type Mix,
  mixOf,
  type MixPart,
  volumeMlOf,
} from '#libs/materials';
import { kgOf, litresOf } from '#libs/quantities';
import type { BayFacts } from '../sites/site-facts.service.js';
import { notesOn } from './additions-notes.js';
import { nearestOf, unmetWords } from './additions-words.js';
import type {
  AdditionDto,
  AdditionsDto,
  HelpDto,
  LeftOutDto,
  MixThenDto,
  PortionDto,
} from './additions.dto.js';
import type { Asked, Named, Standing } from './asked.js';
import { leftOutWords, summaryOf } from './additions-summary.js';
import { cautionsIn, eachOfMix, rounded, standingOf } from './mix-view.js';
import { kgWords, listed, portionWords } from './portions.js';

/** The answer to what to add, in kilograms, litres and sentences. `bay` is where the batch lies. */
export function additionsView(asked: Asked, answer: AdditionsAnswer, bay: BayFacts | null): AdditionsDto {
  const { question, onHand } = asked;
  const named = namesIn(asked);
  const added = answer.additions.map(({ materialCode, massG }): MixPart => {
    return { material: named(materialCode), massG, estimatedG: 0, estimatedMl: 0 };
  });
  const steps = answer.additions.flatMap((one) => stepOf(one, named, question.candidates));
  return {
    ...base({ ...asked, ...question }),
    state: answer.state,
    summary: summaryOf({ ...asked, ...question }, answer.state, steps),
    steps,
    additions: answer.additions.map((one) => additionView(one, named, question.candidates)),
    after: mixThen(answer.after),
    afterMeasured: mixThen(answer.afterMeasured),
    missedMeasured: [...answer.missedMeasured],
    cost: answer.cost === null ? null : Math.round(answer.cost * 100) / 100,
    costUnknown: [...answer.costUnknown],
    unmet: answer.unmet.map((unmet) => ({
      ...{ figure: unmet.target.figure, nearest: nearestOf(unmet), text: unmetWords(unmet) },
    })),
    wouldHelp: answer.wouldHelp.map((help) => helpView(help, named)),
    together: answer.together.map((one) => portion(one, named)),
    leftOut: [
      ...answer.leftOut.map(({ materialCode, why, missing }) =>
        leftOut(
          named(materialCode),
          why,
          missing.map(({ figure }) => figure),
        ),
      ),
      ...onHand.unweighed.map((material) => leftOut(material, 'figures-unknown', ['bulkDensityKgM3'])),
      ...onHand.notListed.map((material) => leftOut(material, 'not-listed', [])),
    ],
    notJudged: [...answer.notJudged],
    cautions: cautionsIn(added, onHand.permit),
    notes: notesOn(asked, answer, added, { bay, named }),
  };
}

/** Of a batch that is no longer built: how it stood, and that nothing is to be added to its mix. */
export function closedView(standing: Standing): AdditionsDto {
  return { ...base(standing), state: 'closed', summary: summaryOf(standing, 'closed', []) };
}

function base({ built, ask, parts, targets }: Standing): Omit<AdditionsDto, 'state' | 'summary'> {
  const mix = mixOf(parts);
  return {
    ...ask,
    figuresAsOf: built.leftAt?.toISOString() ?? null,
    targets: targets.map((target) => standingOf(target, mix)),
    ...{ steps: [], additions: [], after: null, afterMeasured: null, missedMeasured: [] },
    ...{ cost: null, costUnknown: [], unmet: [], wouldHelp: [], together: [], leftOut: [] },
    ...{ notJudged: [], cautions: [], notes: [] },
  };
}

function leftOut(
  { code, name }: MaterialFigures,
  why: LeftOutDto['why'],
  missing: MaterialFigure[],
): LeftOutDto {
  return { material: code, why, missing, text: leftOutWords(name, why, missing) };
}

function namesIn({ onHand }: Asked): Named {
  return (code) => {
    const material = onHand.figures.get(code);
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
  return [addition.isAll ? `all ${words} at the yard` : words];
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
  const beside = help.alongside.map((one) => ({
    ...one,
    volumeMl: volumeMlOf(named(one.materialCode), one.massG),
  }));
  const besideWords = beside.map(({ materialCode, ...amount }) =>
    portionWords({ name: named(materialCode).name, ...amount, measured: null }),
  );
  const { name, kind } = named(help.materialCode);
  const amount = portionWords({ name, massG: help.massG, volumeMl: help.volumeMl, measured: null });
  const weight = help.volumeMl === null || kind === 'water' ? '' : `, about ${kgWords(help.massG)}`;
  const rest = besideWords.length === 0 ? '' : `, with ${listed(besideWords, 'and')} from the yard`;
  const alongside = beside.map((one) => portion(one, named));
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
