import { Injectable } from '@nestjs/common';
import {
  type Ask,
  asksOf,
  type HandedOut,
  type MaterialFigures,
  type Measure,
  targetsAsked,
  type WantedMaterial,
} from '#libs/materials';
import { kgOf, litresOf } from '#libs/quantities';
import { Clock } from '../http/clock.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import type { Named } from './asked.js';
import { MixRecords } from './mix.records.js';
import { permitTargets } from './mix-view.js';
import { type OnHand, OnHandService } from './on-hand.service.js';
import { SolverService } from './solver.service.js';
import type { BatchServedDto, WantedDto, WantedMaterialDto } from './wanted.dto.js';
import { crewWords, MOST_SHOWN, wantedWords } from './wanted-words.js';

/** Nobody brings these: they are made at yards. */
const OF_YARDS = new Set(['overs', 'finished-compost']);

type BatchRef = Pick<BatchServedDto, 'id' | 'code'>;
type Answers = HandedOut<BatchRef>['answers'];

/** With what it is told: the materials that may be asked for, and what the yard measures out in. */
interface Known {
  named: Named;
  measures: ReadonlyMap<string, Measure>;
}

/** What to ask donors for: what the batches of a yard lack beyond its stock, which is handed out batch by batch. */
@Injectable()
export class WantedService {
  constructor(
    private readonly records: MixRecords,
    private readonly onHand: OnHandService,
    private readonly solver: SolverService,
    private readonly sites: SiteFactsService,
    private readonly clock: Clock,
  ) {}

  async ofSite(asked: string): Promise<WantedDto> {
    const { id: siteId, name } = await this.sites.site(asked);
    const atMs = this.clock.nowMs();
    const onHand = await this.onHand.at(siteId, atMs);
    const answers = await this.answers(siteId, onHand);
    const { asks, beyondHelp } = asksOf(answers);
    const named: Named = (code) => materialIn(onHand, code);
    const known = { named, measures: onHand.measures };
    const batches = answers.map(({ key, answer }) => ({ ...key, state: answer.state }));
    const hopeless = beyondHelp.map(({ code }) => code);
    return {
      siteId,
      asOf: new Date(atMs).toISOString(),
      batches,
      asks: asks.map((ask) => askView(ask, known)),
      beyondHelp: hopeless,
      text: wantedWords(name, { asks, batches, beyondHelp: hopeless }, named),
      notes: crewWords(batches, hopeless),
    };
  }

  /** What each batch that is being built lacks, in order of code: they all draw on one stock. */
  private async answers(siteId: string, onHand: OnHand): Promise<Answers> {
    const targets = targetsAsked(permitTargets(onHand.permit), 'reasonable');
    const batches = (await this.records.building(siteId)).map(({ id, code, lines }) => ({
      key: { id, code },
      targets,
      parts: lines.map(({ materialCode, ...amount }) => ({
        material: materialIn(onHand, materialCode),
        ...amount,
      })),
    }));
    const obtainable = onHand.obtainable.filter(({ code }) => !OF_YARDS.has(code));
    const { candidates } = onHand;
    return (await this.solver.handOut(batches, { candidates, obtainable, leastBy: 'mass' })).answers;
  }
}

function materialIn({ figures }: OnHand, code: string): MaterialFigures {
  const material = figures.get(code);
  if (!material) throw new Error(`there is no material ${code}`);
  return material;
}

function askView({ keys, anyOf, allOf }: Ask<BatchRef>, known: Known): WantedDto['asks'][number] {
  return {
    batches: keys.map(({ code }) => code),
    anyOf: anyOf.slice(0, MOST_SHOWN).map((wanted) => wantedView(wanted, known)),
    more: Math.max(0, anyOf.length - MOST_SHOWN),
    allOf: allOf.map((wanted) => wantedView(wanted, known)),
  };
}

/** In the container that the yard counts it in or, of what it never counts, in the first that it counts anything in. */
function wantedView(
  { materialCode, massG, volumeMl }: WantedMaterial,
  { named, measures }: Known,
): WantedMaterialDto {
  const measure = measures.get(materialCode) ?? [...measures.values()][0];
  return {
    material: materialCode,
    name: named(materialCode).name,
    massKg: kgOf(massG),
    volumeL: volumeMl === null ? null : litresOf(volumeMl),
    measured:
      measure === undefined || volumeMl === null
        ? null
        : {
            container: measure.code,
            volumeL: litresOf(measure.volumeMl),
            count: Math.ceil((volumeMl * 2) / measure.volumeMl) / 2,
          },
  };
}
