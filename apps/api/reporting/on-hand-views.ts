import { kgOf, litresOf, sumG } from '#libs/quantities';
import { stillHereOf } from '../batches/balance.service.js';
import type { HeapDto, InProcessDto, StageOnHandDto } from './on-hand.dto.js';
import type { BatchLine } from './on-hand.records.js';

interface InProcess {
  line: BatchLine;
  view: InProcessDto;
}

/** The batches of which anything lay there unparted. */
export function inProcessOf(batches: readonly BatchLine[]): InProcess[] {
  return batches.flatMap((line) => {
    const { batchId, code, stage, leftG, pileMl, pileOutdated } = line;
    const massG = measuredG(line);
    if (stage === 'emptied' || massG === 0) return [];
    const measured = {
      measuredKg: massG === null ? null : kgOf(massG),
      volumeL: pileMl === null || pileOutdated ? null : litresOf(pileMl),
    };
    return [{ line, view: { batchId, code, stage, massKg: kgOf(leftG), ...measured } }];
  });
}

export function stagesOf(batches: readonly InProcess[]): StageOnHandDto[] {
  const stages = [...new Set(batches.map(({ line }) => line.stage))];
  return stages.map((stage) => {
    const there = batches.filter(({ line }) => line.stage === stage);
    const measured = there.flatMap(({ line, view }) => (view.volumeL === null ? [] : [line.pileMl ?? 0]));
    return {
      ...{ stage, batches: there.length, massKg: kgOf(there.reduce((sum, { line }) => sum + line.leftG, 0)) },
      batchesMeasured: measured.length,
      volumeL: measured.length === 0 ? null : litresOf(sumG(measured)),
    };
  });
}

/** What lay there of overs or of compost, heap by heap. */
export function heapsOf(batches: readonly BatchLine[], place: 'oversG' | 'compostG'): HeapDto[] {
  return batches.flatMap((line) => {
    const { batchId, code, stage, measuredG: bucketG, measuredMl } = line;
    const massG = line[place];
    if (massG === 0) return [];
    const isKnown = place === 'compostG' && bucketG > 0;
    const volumeL = isKnown ? Math.round((massG / bucketG) * measuredMl) / 1000 : null;
    return [{ batchId, code, stage, massKg: kgOf(massG), volumeL }];
  });
}

function measuredG(line: BatchLine): number | null {
  const { stage, stageAt, mergedOn, inG, pileAt, pileMl, measuredG: compostG, measuredMl } = line;
  const screened = { lastAt: line.screenedAt, compostG, measuredG: compostG, measuredMl };
  const pile =
    pileAt === null || pileMl === null
      ? null
      : {
          ...{ occurredAt: pileAt, volumeMl: pileMl, massG: line.pileG },
          ...{ inSinceG: line.inSinceG, outSinceG: line.outSinceG },
        };
  return stillHereOf({ stage, stageAt, wentIn: inG > 0, mergedOn, screened, pile }).massG;
}
