import {
  type Addition,
  type AdditionsAnswer,
  type Dose,
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
  DoseDto,
  HelpDto,
  LeftOutDto,
  MixThenDto,
  PortionDto,
} from './additions.dto.js';
import type { Asked, Named, Standing } from './asked.js';
import { beyondHelpWords, leftOutWords, summaryOf } from './additions-summary.js';
import { MOST_SHOWN } from './wanted-words.js';
import { cautionsIn, eachOfMix, rounded, standingOf } from './mix-view.js';
import { doseWords, kgWords, listed, portionWords } from './portions.js';
import type { StockCandidate } from './stock.service.js';

/** The answer to what to add, in kilograms, litres and sentences. `bay` is where the batch lies. */
export function additionsView(asked: Asked, answer: AdditionsAnswer, bay: BayFacts | null): AdditionsDto {
  const { question, onHand } = asked;
  const named = namesIn(asked);
  const added = answer.additions.map(({ materialCode, massG }): MixPart => {
    return { material: named(materialCode), massG, estimatedG: 0, estimatedMl: 0 };
  });
  const steps = answer.additions.flatMap((one) => stepOf(one, named, onHand.candidates));
  return {
    ...base({ ...asked, ...question }),
    state: answer.state,
    summary: isBeyondHelp(answer)
      ? beyondHelpWords(asked.built.batch.code, answer.unmet, onHand.permit)
      : summaryOf({ ...asked, ...question }, answer.state, steps),
    steps,
    additions: answer.additions.map((one) => additionView(one, named, onHand.candidates)),
    after: mixThen(answer.after),
    afterMeasured: mixThen(answer.afterMeasured),
    missedMeasured: [...answer.missedMeasured],
    cost: answer.cost === null ? null : Math.round(answer.cost * 100) / 100,
    costUnknown: [...answer.costUnknown],
    unmet: answer.unmet.map((unmet) => ({
      ...{ figure: unmet.target.figure, nearest: nearestOf(unmet), text: unmetWords(unmet) },
    })),
    wouldHelp: answer.wouldHelp.slice(0, MOST_SHOWN).map((help) => helpView(help, named)),
    moreWouldHelp: Math.max(0, answer.wouldHelp.length - MOST_SHOWN),
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
    ...{ cost: null, costUnknown: [], unmet: [], wouldHelp: [], moreWouldHelp: 0, together: [], leftOut: [] },
    ...{ notJudged: [], cautions: [], notes: [] },
  };
}

/** Nothing that could be had would do, alone or together. */
function isBeyondHelp({ state, wouldHelp, together }: AdditionsAnswer): boolean {
  return state === 'impossible' && wouldHelp.length + together.length === 0;
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

function measuredOf({ dose, materialCode }: Addition, candidates: readonly StockCandidate[]) {
  const measure = candidates.find(({ material }) => material.code === materialCode)?.measure;
  return dose.halves === null || !measure ? null : { ...measure, halves: dose.halves, massG: dose.massG };
}

/** None where measuring out in half containers leaves nothing of it. */
function stepOf(addition: Addition, named: Named, candidates: readonly StockCandidate[]): string[] {
  const { dose, materialCode } = addition;
  const measured = measuredOf(addition, candidates);
  const { name } = named(materialCode);
  if (measured?.halves === 0) return [];
  if (measured !== null) return [portionWords({ name, ...dose, measured })];
  return [dose.by === 'all' ? `all ${doseWords(name, dose)} at the yard` : doseWords(name, dose)];
}

function additionView(addition: Addition, named: Named, candidates: readonly StockCandidate[]): AdditionDto {
  const measured = measuredOf(addition, candidates);
  return {
    ...portion(addition, named),
    dose: doseView(addition.dose),
    measured: measured && {
      container: measured.code,
      containerId: measured.containerId,
      count: measured.halves / 2,
      volumeL: litresOf(measured.volumeMl),
      massKg: kgOf(measured.massG),
    },
    cost: addition.cost === null ? null : Math.round(addition.cost * 100) / 100,
  };
}

/** A range too narrow for whole grams is answered in parts of one. */
function doseView({ by, massG, volumeMl }: Dose): DoseDto {
  return { by, massKg: massG / 1000, volumeL: volumeMl === null ? null : litresOf(volumeMl) };
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

function helpView({ dose, alongside, ...help }: AdditionsAnswer['wouldHelp'][number], named: Named): HelpDto {
  const { name, kind } = named(help.materialCode);
  const weight = dose.volumeMl === null || kind === 'water' ? '' : `, about ${kgWords(dose.massG)}`;
  const beside = alongside.map((one) => doseWords(named(one.materialCode).name, one.dose));
  const rest = beside.length === 0 ? '' : `, with ${listed(beside, 'and')} from the yard`;
  return {
    ...portion(help, named),
    alongside: alongside.map(({ materialCode, massG }) =>
      portion({ materialCode, massG, volumeMl: volumeMlOf(named(materialCode), massG) }, named),
    ),
    text: `${doseWords(name, dose)}${weight}${rest}`,
  };
}

function mixThen(mix: Mix | null): MixThenDto | null {
  if (mix === null) return null;
  return {
    massKg: kgOf(Math.round(mix.massG)),
    volumeL: mix.volumeMl === null ? null : litresOf(mix.volumeMl),
    ...eachOfMix((figure) => rounded(mix.value[figure])),
  };
}
