import type {
  CreditedDay as RecordedDay,
  FurtherVerdict,
  OtherReading,
  ProcessVerdict,
} from '#libs/documents';
import {
  type BatchFacts,
  creditByDay,
  type Level,
  type ProcessRule,
  type Required,
  type Span,
  type Verdict,
} from '#libs/process';
import { celsiusOf } from '#libs/quantities';
import type { RuledVerdict } from '../../monitoring/process.service.js';
import { celsius, iso, isoOf, tenth } from './wording.js';

const HOUR_MS = 3_600_000;

/** With what it was reached from, in full. */
export function verdictPart(ruled: RuledVerdict, facts: BatchFacts, asOfMs: number): ProcessVerdict {
  const { verdict, otherReading } = ruled;
  const { heatIntegral } = verdict;
  return {
    ...furtherPart(ruled),
    clockStartedAt: isoOf(verdict.clockStartedAtMs),
    creditedSpans: verdict.creditedSpans.map(span),
    days: daysPart(ruled, facts, asOfMs),
    cautions: verdict.cautions.map(({ kind, instrument, text, ...when }) => ({
      ...span(when),
      ...{ kind, instrument, text },
    })),
    otherReading: otherReading && standing(otherReading),
    evidence: verdict.evidence.map(({ kind, text, ...when }) => ({ ...span(when), kind, text })),
    notes: [...verdict.notes],
    hoursAbove: verdict.timeAboveHours.map(({ thresholdDeciC, hours }) => ({
      temperatureC: celsiusOf(thresholdDeciC),
      hours: tenth(hours),
    })),
    heatIntegral: heatIntegral && {
      ...span(heatIntegral),
      holdingTimes: tenth(heatIntegral.holdingTimes),
      citation: heatIntegral.citation,
    },
  };
}

/** A verdict in brief. */
export function furtherPart({ rule, verdict }: RuledVerdict): FurtherVerdict {
  return {
    rule: ruleName(rule),
    purpose: rule.purpose,
    required: requirement(verdict.required),
    conditions: verdict.conditions.map(({ key, state, text }) => ({ key, state, text })),
    ...standing(verdict),
  };
}

function standing({
  reading,
  status,
  creditedHours,
  creditedDays,
  turnsCredited,
  metAtMs,
}: Verdict): OtherReading {
  return {
    ...{ reading, status },
    ...{ creditedHours: tenth(creditedHours), creditedDays: tenth(creditedDays), turnsCredited },
    metAt: isoOf(metAtMs),
  };
}

function ruleName({
  code,
  version,
  title,
  citation,
  textStatus,
  fromMemory,
}: ProcessRule): ProcessVerdict['rule'] {
  return { code, version, title, citation, textStatus, fromMemory: [...fromMemory] };
}

/** Each day has what the tenths up to its end come to, less those up to its beginning: so they sum to those of the whole. */
function daysPart({ rule, verdict }: RuledVerdict, facts: BatchFacts, asOfMs: number): RecordedDay[] {
  let creditedMs = 0;
  return creditByDay(rule, facts, verdict, asOfMs).map((day) => {
    const before = tenth(creditedMs / HOUR_MS);
    creditedMs += day.creditedMs;
    return {
      ...{ day: day.day, checks: day.checks, loggerReadings: day.loggerInstants, counted: day.counted },
      lowestC: celsius(day.lowestDeciC),
      highestC: day.highestDeciC === null ? null : celsiusOf(Math.ceil(day.highestDeciC)),
      longestGapHours: day.longestGapMs === null ? null : Math.ceil((day.longestGapMs / HOUR_MS) * 10) / 10,
      creditedHours: Math.round((tenth(creditedMs / HOUR_MS) - before) * 10) / 10,
      turns: day.turns,
    };
  });
}

const span = ({ fromMs, toMs }: Span) => ({ from: iso(new Date(fromMs)), to: iso(new Date(toMs)) });

function requirement(required: Required): ProcessVerdict['required'] {
  const { thresholdDeciC, upperLimitDeciC, depthMm, peak, average, carbonToNitrogen, ...same } = required;
  return {
    ...same,
    thresholdC: celsiusOf(thresholdDeciC),
    upperLimitC: upperLimitDeciC === null ? null : celsiusOf(upperLimitDeciC),
    peak: peak && { ...levelOf(peak), hours: peak.hours },
    average: average && levelOf(average),
    carbonToNitrogen: carbonToNitrogen && { ...carbonToNitrogen },
    depthCm: depthMm === null ? null : depthMm / 10,
  };
}

const levelOf = ({ thresholdDeciC, strict }: Level) => ({ thresholdC: celsiusOf(thresholdDeciC), strict });
