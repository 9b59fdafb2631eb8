import {
  TEXT_STATUSES,
  VERDICT_STATES,
  type Check,
  type PileAction,
  type ProcessRequirement,
  type ProcessVerdict,
  type Reading,
} from './record-monitoring.js';
import { entered } from './schema-inputs.js';
import {
  amount,
  count,
  figure,
  flag,
  instant,
  listOf,
  objectOf,
  oneOf,
  orNull,
  percent,
  text,
} from './schema-words.js';

const reading = objectOf<Reading>({
  position: text,
  depthCm: orNull(amount),
  temperatureC: figure,
  instrument: orNull(text),
  entered,
});

export const check = objectOf<Check>({
  id: text,
  occurredAt: instant,
  readings: listOf(reading),
  governingC: orNull(figure),
  counted: flag,
  remark: orNull(text),
  moisture: orNull(text),
  moisturePercent: orNull(percent),
  odour: orNull(text),
  oxygenPercent: orNull(percent),
  ambientC: orNull(figure),
  note: orNull(text),
  warnings: listOf(text),
  by: text,
});

export const action = objectOf<PileAction>({
  occurredAt: instant,
  kind: oneOf('turn', 'move', 'watering', 'aeration'),
  volumeL: orNull(amount),
  entered,
  toBay: orNull(text),
  note: orNull(text),
  by: text,
});

const evidence = listOf(
  objectOf<ProcessVerdict['evidence'][number]>({ from: instant, to: instant, kind: text, text }),
);

export const verdict = objectOf<ProcessVerdict>({
  rule: objectOf<ProcessVerdict['rule']>({
    code: text,
    title: text,
    citation: text,
    textStatus: oneOf(...TEXT_STATUSES),
  }),
  reading: oneOf('consecutive', 'cumulative'),
  status: oneOf(...VERDICT_STATES),
  required: objectOf<ProcessRequirement>({
    hours: orNull(amount),
    days: orNull(amount),
    turns: count,
    turnSpacingHours: amount,
    thresholdC: figure,
    upperLimitC: orNull(figure),
    probes: count,
    depthCm: orNull(amount),
    longestGapHours: orNull(amount),
  }),
  creditedHours: amount,
  creditedDays: amount,
  turnsCredited: count,
  clockStartedAt: orNull(instant),
  metAt: orNull(instant),
  creditedSpans: listOf(objectOf<ProcessVerdict['creditedSpans'][number]>({ from: instant, to: instant })),
  evidence,
  notes: listOf(text),
  hoursAbove: listOf(objectOf<ProcessVerdict['hoursAbove'][number]>({ temperatureC: figure, hours: amount })),
  heatIntegral: orNull(
    objectOf<NonNullable<ProcessVerdict['heatIntegral']>>({
      from: instant,
      to: instant,
      holdingTimes: amount,
      citation: text,
    }),
  ),
});
