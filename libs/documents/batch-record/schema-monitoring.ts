import {
  RULE_PURPOSES,
  TEXT_STATUSES,
  VERDICT_STATES,
  type Check,
  type Condition,
  type CreditedDay,
  type FurtherVerdict,
  type InstrumentCaution,
  type LoggerHours,
  type OtherReading,
  type PileAction,
  type ProcessRequirement,
  type ProcessVerdict,
  type Reading,
  type RequiredLevel,
  type RuleName,
} from './record-monitoring.js';
import { entered } from './schema-inputs.js';
import {
  amount,
  count,
  day,
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
  zone: orNull(text),
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
  signs: orNull(listOf(text)),
  texture: orNull(text),
  inputsVisible: orNull(flag),
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

const rule = objectOf<RuleName>({
  code: text,
  version: orNull(count),
  title: text,
  citation: text,
  textStatus: oneOf(...TEXT_STATUSES),
  fromMemory: listOf(text),
});

const level = { thresholdC: figure, strict: flag };

const required = objectOf<ProcessRequirement>({
  hours: orNull(amount),
  days: orNull(amount),
  turns: count,
  turnSpacingHours: amount,
  hotHoursBeforeTurn: orNull(amount),
  thresholdC: figure,
  thresholdStrict: flag,
  upperLimitC: orNull(figure),
  peak: orNull(objectOf<NonNullable<ProcessRequirement['peak']>>({ ...level, hours: amount })),
  average: orNull(objectOf<RequiredLevel>(level)),
  leastMoisturePercent: orNull(percent),
  carbonToNitrogen: orNull(
    objectOf<NonNullable<ProcessRequirement['carbonToNitrogen']>>({ least: amount, most: amount }),
  ),
  probes: count,
  zones: count,
  depthCm: orNull(amount),
  longestGapHours: orNull(amount),
});

const standing = {
  reading: oneOf('consecutive', 'cumulative'),
  status: oneOf(...VERDICT_STATES),
  creditedHours: amount,
  creditedDays: amount,
  turnsCredited: count,
  metAt: orNull(instant),
};

const creditedDay = objectOf<CreditedDay>({
  day,
  checks: count,
  loggerReadings: count,
  counted: count,
  lowestC: orNull(figure),
  highestC: orNull(figure),
  longestGapHours: orNull(amount),
  creditedHours: amount,
  turns: count,
});

export const loggerHours = objectOf<LoggerHours>({
  logger: text,
  hours: listOf(
    objectOf<LoggerHours['hours'][number]>({
      at: instant,
      readings: count,
      lowestC: figure,
      highestC: figure,
    }),
  ),
});

const told = {
  ...standing,
  rule,
  purpose: orNull(oneOf(...RULE_PURPOSES)),
  required,
  clockStartedAt: orNull(instant),
  days: listOf(creditedDay),
  conditions: listOf(objectOf<Condition>({ key: text, state: oneOf('met', 'unmet', 'unknown'), text })),
  cautions: listOf(
    objectOf<InstrumentCaution>({ from: instant, to: instant, kind: text, instrument: text, text }),
  ),
  otherReading: orNull(objectOf<OtherReading>(standing)),
  evidence,
  notes: listOf(text),
};

export const furtherVerdict = objectOf<FurtherVerdict>(told);

export const verdict = objectOf<ProcessVerdict>({
  ...told,
  creditedSpans: listOf(objectOf<ProcessVerdict['creditedSpans'][number]>({ from: instant, to: instant })),
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
