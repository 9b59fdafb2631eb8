import type { Check as RecordedCheck, LoggerHours, PileAction } from '#libs/documents';
import { eachProbe, hoursOf, judgeChecks, type LoggerSeries } from '#libs/process';
import { celsiusOf, litresOf } from '#libs/quantities';
import { initialsOf } from '../../http/initials.js';
import type { BayMove } from '../../batches/batch-flows.service.js';
import type {
  CheckRow,
  ProcessFacts,
  RuledVerdict,
  TurnRow,
  WateringRow,
} from '../../monitoring/process.service.js';
import type { Names } from './record.records.js';
import { celsius, iso, typed } from './wording.js';

const BEFORE_RAW = 'Before the last raw material went in.';

export function checksPart(
  rows: readonly CheckRow[],
  { process }: Pick<ProcessFacts, 'process'>,
  ruled: RuledVerdict | null,
  names: Names,
): RecordedCheck[] {
  const judged = new Map(
    judgeChecks(ruled?.rule ?? eachProbe, process.checks).map((check) => [check.checkId, check]),
  );
  const lastRawAtMs = lastRawOf(process, ruled);
  return rows.map((row) => {
    const { governingDeciC = null, lack = null } = judged.get(row.id) ?? {};
    const early = ruled && row.occurredAt.getTime() < lastRawAtMs ? BEFORE_RAW : null;
    const remark = lack ?? early;
    return {
      ...checkLine(row, names),
      governingC: celsius(governingDeciC),
      counted: remark === null,
      remark,
    };
  });
}

/** What was merged in without having met the rule counts as raw material. */
function lastRawOf({ rawAdditions }: ProcessFacts['process'], ruled: RuledVerdict | null): number {
  const unmet = (ruled?.mergedFrom ?? []).filter(
    ({ occurredAtMs, metAtMs }) => metAtMs === null || metAtMs > occurredAtMs,
  );
  return Math.max(-Infinity, ...[...rawAdditions, ...unmet].map(({ occurredAtMs }) => occurredAtMs));
}

function checkLine(row: CheckRow, names: Names): Omit<RecordedCheck, 'governingC' | 'counted' | 'remark'> {
  const { id, moisture, moisturePercent, odour, oxygenPercent, note, entered } = row;
  const { signs, texture, inputsVisible } = row;
  return {
    id,
    occurredAt: iso(row.occurredAt),
    readings: row.readings.map(({ position, zone, depthMm, temperatureDeciC, instrumentId }, index) => ({
      ...{ position, zone },
      depthCm: depthMm === null ? null : depthMm / 10,
      temperatureC: celsiusOf(temperatureDeciC),
      instrument: instrumentId === null ? null : (names.instruments.get(instrumentId) ?? null),
      entered: typed(entered.readings[index]?.temperature),
    })),
    ...{ moisture, moisturePercent, odour, oxygenPercent, signs, texture, inputsVisible },
    ambientC: celsius(row.ambientDeciC),
    note,
    warnings: row.warnings.map(({ text }) => text),
    by: initialsOf(names.people.get(row.recordedBy)),
  };
}

/** What a logger showed, hour by hour, as the rule looks at its probes. */
export function loggerPart(series: LoggerSeries): LoggerHours {
  const hours = hoursOf(series).flatMap(({ startMs, instants, lowestDeciC, highestDeciC }) =>
    lowestDeciC === null || highestDeciC === null
      ? []
      : {
          ...{ at: iso(new Date(startMs)), readings: instants },
          ...{ lowestC: celsiusOf(Math.floor(lowestDeciC)), highestC: celsiusOf(Math.ceil(highestDeciC)) },
        },
  );
  return { logger: series.logger, hours };
}

export function actionsPart(
  {
    turns,
    waterings,
    moves,
  }: { turns: readonly TurnRow[]; waterings: readonly WateringRow[]; moves: readonly BayMove[] },
  names: Names,
): PileAction[] {
  const by = (personId: string | undefined) => initialsOf(names.people.get(personId ?? ''));
  const nothing = { volumeL: null, entered: null, toBay: null, note: null };
  const actions: PileAction[] = [
    ...turns.map(({ occurredAt, note, recordedBy }) => ({
      ...nothing,
      ...{ occurredAt: iso(occurredAt), kind: 'turn' as const, note, by: by(recordedBy) },
    })),
    ...moves.map(({ id, occurredAtMs, toBay }) => ({
      ...nothing,
      occurredAt: iso(new Date(occurredAtMs)),
      ...{ kind: 'move' as const, toBay, by: by(names.movers.get(id)) },
    })),
    ...waterings.map(({ occurredAt, volumeMl, entered, note, recordedBy }) => ({
      ...nothing,
      ...{ occurredAt: iso(occurredAt), kind: 'watering' as const, note, by: by(recordedBy) },
      volumeL: volumeMl === null ? null : litresOf(volumeMl),
      entered: typed(entered.volume),
    })),
  ];
  return actions.sort((a, b) => (a.occurredAt < b.occurredAt ? -1 : Number(a.occurredAt > b.occurredAt)));
}
