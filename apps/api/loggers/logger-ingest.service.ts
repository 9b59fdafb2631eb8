import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import type { Device } from '../http/access/device.js';
import { Clock } from '../http/clock.js';
import { Problem } from '../http/problems/catalogue.js';
import type { AnyWrite } from '../http/writes/work.js';
import {
  type Admitted,
  type ArrivedReading,
  comparedWith,
  Doorkeeper,
  firstOfEach,
  type Outcome,
  type Target,
} from './arrivals.js';
import { LoggerReadingsRecords, type ProbeRow } from './logger-readings.records.js';

export { type ArrivedReading, isDoubtful, type Outcome, type Refusal } from './arrivals.js';

interface LetIn {
  index: number;
  target: Target;
  reading: ArrivedReading;
  hasBatch: boolean;
}

export interface Delivered {
  /** What became of each reading, in the order they were given. */
  outcomes: Outcome[];
  /** How many of those that were kept, now or before, are of a bay in which no batch lay. */
  withoutBatch: number;
}

/** The one door through which readings of loggers come in, whoever brings them. */
@Injectable()
export class LoggerIngestService {
  constructor(
    private readonly clock: Clock,
    private readonly readings: LoggerReadingsRecords,
  ) {}

  /**
   * Keeps readings of a device inside a write of the caller and notes its audit line: nothing is refused as a whole, and
   * nothing is dropped without a word.
   */
  async keep(write: AnyWrite, device: Device, arrived: readonly ArrivedReading[]): Promise<Delivered> {
    await this.readings.hold(write.sql, device.id);
    return this.keepHeld(write, device, arrived);
  }

  /** The same of what a logger sends itself. Refuses (401) a key that was revoked since it opened the door. */
  async keepSent(write: AnyWrite, device: Device, arrived: readonly ArrivedReading[]): Promise<Delivered> {
    if (!(await this.readings.hold(write.sql, device.id))) throw new Problem('not-signed-in');
    return this.keepHeld(write, device, arrived);
  }

  private async keepHeld(
    write: AnyWrite,
    device: Device,
    arrived: readonly ArrivedReading[],
  ): Promise<Delivered> {
    const { sql } = write;
    const outcomes: Outcome[] = arrived.map(() => 'new');
    const letIn = await this.letIn(sql, device, arrived, outcomes);
    const added = await this.add(sql, await this.located(sql, letIn), outcomes);
    write.audit({
      ...{ action: 'logger-readings.kept', subjectKind: 'device-key', subjectId: device.id },
      ...{ siteId: device.siteId, detail: detailOf(device, outcomes, added) },
    });
    const isKept = ({ index }: LetIn) => typeof outcomes[index] === 'string';
    return { outcomes, withoutBatch: letIn.filter((one) => !one.hasBatch && isKept(one)).length };
  }

  /** Adds what is not there yet and says of the rest how it compares; answers what was added. */
  private async add(
    sql: AnyWrite['sql'],
    admitted: readonly Admitted[],
    outcomes: Outcome[],
  ): Promise<Admitted[]> {
    if (admitted.length === 0) return [];
    const { firsts, repeated } = firstOfEach(admitted);
    const before = new Map((await this.readings.keep(sql, firsts)).map((kept) => [kept.index, kept]));
    for (const [later, first] of [...firsts.map((first) => [first, first] as const), ...repeated]) {
      const kept = before.get(first.index);
      if (kept ?? later !== first) outcomes[later.index] = comparedWith(kept ?? first, later);
    }
    return firsts.filter(({ index }) => !before.has(index));
  }

  private async letIn(
    sql: AnyWrite['sql'],
    device: Device,
    arrived: readonly ArrivedReading[],
    outcomes: Outcome[],
  ): Promise<LetIn[]> {
    const targets = await this.readings.targets(sql, device.id);
    const ids = targets.map(({ id }) => id);
    const batches = await this.readings.holdBatches(sql, ids, ...spanOf(arrived));
    const doorkeeper = new Doorkeeper(targets, batches, this.clock.nowMs());
    return arrived.flatMap((reading, index) => {
      const target = doorkeeper.admit(reading);
      if ('id' in target) return [{ index, target, reading, hasBatch: doorkeeper.hasBatch(reading, target) }];
      outcomes[index] = target;
      return [];
    });
  }

  /** Each reading with its probe, which is made where it was never told of. */
  private async located(sql: AnyWrite['sql'], letIn: readonly LetIn[]): Promise<Admitted[]> {
    if (letIn.length === 0) return [];
    const targetIds = [...new Set(letIn.map(({ target }) => target.id))];
    let known = byPlace(await this.readings.probes(sql, targetIds));
    const missing = new Map<string, Pick<ProbeRow, 'targetId' | 'position' | 'zone' | 'depthMm'>>();
    for (const { target, reading } of letIn) {
      const { position, zone, depthMm } = reading;
      const place = placeOf(target.id, reading);
      if (!known.has(place)) missing.set(place, { targetId: target.id, position, zone, depthMm });
    }
    if (missing.size > 0) {
      await this.readings.insertProbes(sql, [...missing.values()]);
      known = byPlace(await this.readings.probes(sql, targetIds));
    }
    return letIn.map(({ index, target, reading }) => {
      const probe = known.get(placeOf(target.id, reading));
      if (!probe) throw new Error('a probe that was just made is not there');
      const { atMs, temperatureDeciC: deciC } = reading;
      return { index, probeId: probe.id, placement: probe.placement, atMs, deciC };
    });
  }
}

const placeOf = (
  targetId: number,
  { position, zone, depthMm }: Pick<ProbeRow, 'position' | 'zone' | 'depthMm'>,
) => JSON.stringify([targetId, position, zone, depthMm]);

const byPlace = (probes: readonly ProbeRow[]) =>
  new Map(probes.map((probe) => [placeOf(probe.targetId, probe), probe]));

function spanOf(arrived: readonly ArrivedReading[]): [from: Date, to: Date] {
  let [from, to] = [Infinity, -Infinity];
  for (const { atMs } of arrived) {
    from = Math.min(from, atMs);
    to = Math.max(to, atMs);
  }
  return [new Date(from), new Date(to)];
}

/** The digest is of what was kept now: probe, place, instant and tenths of °C, a line each, in the order it came. */
function detailOf(device: Device, outcomes: readonly Outcome[], added: readonly Admitted[]) {
  const lines = added.map(
    ({ probeId, placement, atMs, deciC }) => `${probeId} ${placement} ${atMs} ${deciC}`,
  );
  const known = outcomes.filter((outcome) => outcome === 'known').length;
  return {
    device: device.code,
    ...{ new: added.length, known, refused: outcomes.length - added.length - known },
    sha256: createHash('sha256').update(lines.join('\n')).digest('hex'),
  };
}
