import { Injectable } from '@nestjs/common';
import { balanceOf, type BatchFlows, type InputKind, type OutputKind } from '#libs/accounting';
import { kgOf, sumG } from '#libs/quantities';
import type { SqlWrite } from '../http/writes/work.js';
import { BatchesService } from './batches.service.js';
import { type FlowLine, FlowsRecords } from './flows.records.js';
import type { Stage } from './stages.js';

/** Where everything went: docs/design.md §4. */
export interface BatchBalance {
  inputs: { kind: InputKind; label: string; massKg: number; estimatedKg: number }[];
  inputKg: number;
  weighedKg: number;
  estimatedKg: number;
  outputs: { kind: OutputKind; label: string; massKg: number }[];
  outputKg: number;
  /** Null while unknown; `stillHere` says why. */
  stillHereKg: number | null;
  stillHere: string;
  processLossKg: number | null;
  /** Compost taken out as a share of all that went in, both as wet mass; null where it cannot be said. */
  yieldPercent: number | null;
  /** How much more came out than went in; null when nothing did. */
  excessKg: number | null;
  /** What then is to be mended; null when nothing is. */
  problem: string | null;
}

@Injectable()
export class BalanceService {
  constructor(
    private readonly batches: BatchesService,
    private readonly flows: FlowsRecords,
  ) {}

  /** With `stageThen`, as it will be in that stage: a record is drawn up before the batch enters it. */
  async balance(batchId: string, sql?: SqlWrite['sql'], stageThen?: Stage): Promise<BatchBalance> {
    const { stage } = await this.batches.find(batchId, sql);
    const lines = await this.flows.lines(batchId, sql);
    const still = stillHereIn(stageThen ?? stage, lines);
    const balance = balanceOf(flowsOf(lines, still.massG));
    const estimatedG = sumG(lines.map((line) => (line.direction === 'in' ? line.estimatedG : 0)));
    const lossG = balance.ok ? balance.processLossG : null;
    return {
      inputs: lines.flatMap((line) =>
        line.direction === 'in'
          ? {
              kind: line.kind,
              label: line.label,
              massKg: kgOf(line.massG),
              estimatedKg: kgOf(line.estimatedG),
            }
          : [],
      ),
      inputKg: kgOf(balance.inputG),
      weighedKg: kgOf(balance.inputG - estimatedG),
      estimatedKg: kgOf(estimatedG),
      outputs: lines.flatMap((line) =>
        line.direction === 'out' ? { kind: line.kind, label: line.label, massKg: kgOf(line.massG) } : [],
      ),
      outputKg: kgOf(balance.outputG),
      stillHereKg: still.massG === null ? null : kgOf(still.massG),
      stillHere: still.text,
      processLossKg: lossG === null ? null : kgOf(lossG),
      yieldPercent: balance.ok && balance.yieldByMass !== null ? percentOf(balance.yieldByMass) : null,
      excessKg: balance.ok ? null : kgOf(balance.excessG),
      problem: balance.ok ? null : problemOf(balance.excessG),
    };
  }
}

/**
 * What still lies there is weighed by nobody while a batch is worked, so it is unknown. Screening is taken to be of the
 * whole batch: once a batch is released and was screened, nothing of it is left unparted.
 */
function stillHereIn(stage: Stage, lines: readonly FlowLine[]): { massG: number | null; text: string } {
  if (lines.length === 0) return { massG: 0, text: 'Nothing has gone in.' };
  const screened = lines.some(({ direction, kind }) => direction === 'out' && kind !== 'sample');
  if (stage === 'condemned') return { massG: null, text: 'It was condemned; nobody weighed what was left.' };
  if (stage !== 'released' && stage !== 'emptied')
    return { massG: null, text: `It is ${stage}; nobody has weighed what lies there.` };
  if (screened)
    return { massG: 0, text: 'It was screened: all of it is counted as compost, overs or residue.' };
  return { massG: null, text: 'It was not screened, so nobody weighed what became of it.' };
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

function problemOf(excessG: number): string {
  return (
    `${kgOf(excessG)} kg more came out than went in. Something that went in is not recorded, or a mass is mistyped: ` +
    'until that is mended there is no loss and no yield to tell.'
  );
}

function percentOf(share: number): number {
  return Math.round(share * 1000) / 10;
}
