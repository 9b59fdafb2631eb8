import { Injectable } from '@nestjs/common';
import { balanceOf, type BatchFlows, type InputKind, type OutputKind } from '#libs/accounting';
import { kgOf, litresOf, type PileShape, sumG } from '#libs/quantities';
import type { SqlWrite } from '../http/writes/work.js';
import { BatchesService } from './batches.service.js';
import { type FlowLine, FlowsRecords } from './flows.records.js';
import { PileMeasurementsRecords } from './pile-measurements.records.js';
import type { Stage } from './stages.js';
import { stillHereOf } from './still-here.js';

export { type Lying, type StillHere, stillHereOf } from './still-here.js';

/** Where everything went: docs/accounting.md §3. */
export interface BatchBalance {
  inputs: { kind: InputKind; label: string; massKg: number; estimatedKg: number }[];
  inputKg: number;
  weighedKg: number;
  /** On no scale: by a volume, or of a batch merged unweighed by its records. */
  estimatedKg: number;
  /** Weighed with a whole haul, and shared back to its lots. */
  sharedKg: number;
  outputs: { kind: OutputKind; label: string; massKg: number }[];
  outputKg: number;
  /** Null while unknown; `stillHere` says why. */
  stillHereKg: number | null;
  stillHere: string;
  processLossKg: number | null;
  /** Compost taken out as a share of all that went in, both as wet mass; null where it cannot be said. */
  yieldPercent: number | null;
  /** Of the compost that screening gave; null unless it is known of all of it. */
  compostVolumeL: number | null;
  /** As it was measured last. */
  pile: BalancePile | null;
  /** How much more came out than went in; null when nothing did. */
  excessKg: number | null;
  /** What then is to be mended; null when nothing is. */
  problem: string | null;
}

export interface BalancePile {
  id: string;
  occurredAt: string;
  shape: PileShape;
  volumeL: number;
  massKg: number | null;
  /** From then on that is not the volume of what lies there: it was screened, or another batch was merged into it. */
  outdatedAt: string | null;
}

@Injectable()
export class BalanceService {
  constructor(
    private readonly batches: BatchesService,
    private readonly flows: FlowsRecords,
    private readonly piles: PileMeasurementsRecords,
  ) {}

  /** With `stageThen`, as it will be in that stage: a record is drawn up before the batch enters it. */
  async balance(batchId: string, sql?: SqlWrite['sql'], stageThen?: Stage): Promise<BatchBalance> {
    const batch = await this.batches.find(batchId, sql);
    const stage = stageThen ?? batch.stage;
    const stageAt = stageThen === undefined ? batch.stageEnteredAt : null;
    const lines = await this.flows.lines(batchId, sql);
    const screened = await this.flows.screened(batchId, sql);
    const pile = await this.piles.latest(batchId, sql);
    const mergedOn = lines.some(({ kind }) => kind === 'merged-on');
    const still = stillHereOf({ stage, stageAt, wentIn: lines.length > 0, mergedOn, screened, pile });
    const balance = balanceOf(flowsOf(lines, still.massG));
    const ofInputs = (part: (line: FlowLine) => number) =>
      sumG(lines.map((line) => (line.direction === 'in' ? part(line) : 0)));
    const estimatedG = ofInputs((line) => line.estimatedG);
    const sharedG = ofInputs((line) => line.sharedG);
    const { compostG, measuredG, measuredMl } = screened;
    return {
      inputs: lines.flatMap((line) => (line.direction === 'in' ? inputView(line) : [])),
      inputKg: kgOf(balance.inputG),
      weighedKg: kgOf(balance.inputG - estimatedG - sharedG),
      estimatedKg: kgOf(estimatedG),
      sharedKg: kgOf(sharedG),
      outputs: lines.flatMap((line) =>
        line.direction === 'out' ? { kind: line.kind, label: line.label, massKg: kgOf(line.massG) } : [],
      ),
      outputKg: kgOf(balance.outputG),
      stillHereKg: kgOrNull(still.massG),
      stillHere: still.text,
      processLossKg: balance.ok ? kgOrNull(balance.processLossG) : null,
      yieldPercent: balance.ok && balance.yieldByMass !== null ? percentOf(balance.yieldByMass) : null,
      compostVolumeL: compostG > 0 && measuredG === compostG ? litresOf(measuredMl) : null,
      pile: pile && {
        ...{ id: pile.id, occurredAt: pile.occurredAt.toISOString(), shape: pile.shape },
        ...{ volumeL: litresOf(pile.volumeMl), massKg: kgOrNull(pile.massG) },
        outdatedAt: pile.outdatedAt?.toISOString() ?? null,
      },
      excessKg: balance.ok ? null : kgOf(balance.excessG),
      problem: balance.ok ? null : problemOf(balance),
    };
  }
}

const kgOrNull = (massG: number | null) => (massG === null ? null : kgOf(massG));

function inputView(line: FlowLine & { direction: 'in' }): BatchBalance['inputs'][number] {
  const { kind, label, massG, estimatedG } = line;
  return { kind, label, massKg: kgOf(massG), estimatedKg: kgOf(estimatedG) };
}

function flowsOf(lines: readonly FlowLine[], stillHereG: number | null): BatchFlows {
  const inputs = lines.flatMap((line) => {
    if (line.direction !== 'in') return [];
    const { kind, label, massG, estimatedG } = line;
    return [
      { kind, label, massG: massG - estimatedG, basis: 'scale' as const },
      { kind, label, massG: estimatedG, basis: 'volume' as const },
    ];
  });
  const outputs = lines.flatMap((line) => (line.direction === 'out' ? line : []));
  return { inputs, outputs, stillHereG };
}

/** A pile may be measured heavier than what went into it: rain, or a tape that lay badly. */
function problemOf({
  inputG,
  outputG,
  excessG,
}: {
  inputG: number;
  outputG: number;
  excessG: number;
}): string {
  const what =
    outputG > inputG
      ? 'more came out than went in'
      : 'more came out and lies there, by its pile, than went in';
  return (
    `${kgOf(excessG)} kg ${what}. Something that went in is not recorded, or a figure is mistyped: ` +
    'until that is mended there is no loss and no yield to tell.'
  );
}

function percentOf(share: number): number {
  return Math.round(share * 1000) / 10;
}
