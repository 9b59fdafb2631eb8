import type {
  CreditedDay as RecordedDay,
  FurtherVerdict,
  OtherReading,
  ProcessVerdict,
} from '#libs/documents';
import {
  type BatchFacts,
  creditByDay,
  type ProcessRule,
  requirementOf,
  type Span,
  type Verdict,
} from '#libs/process';
import { celsiusOf } from '#libs/quantities';
import type { RuledVerdict } from '../../monitoring/process.service.js';
import { celsius, iso, isoOf, tenth } from './wording.js';

const HOUR_MS = 3_600_000;

/** With what is told under the governing rule only. */
export function verdictPart(ruled: RuledVerdict, facts: BatchFacts, asOfMs: number): ProcessVerdict {
  const { creditedSpans, timeAboveHours, heatIntegral } = ruled.verdict;
  return {
    ...furtherPart(ruled, facts, asOfMs),
    creditedSpans: creditedSpans.map(span),
    hoursAbove: timeAboveHours.map(({ thresholdDeciC, hours }) => ({
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

/** A verdict with what it was reached from. `facts` are those of its rule, with all that loggers show under it. */
export function furtherPart(ruled: RuledVerdict, facts: BatchFacts, asOfMs: number): FurtherVerdict {
  const { rule, verdict, otherReading } = ruled;
  return {
    rule: ruleName(rule),
    purpose: rule.purpose,
    required: requirementOf(verdict.required),
    ...standing(verdict),
    clockStartedAt: isoOf(verdict.clockStartedAtMs),
    days: daysPart(ruled, facts, asOfMs),
    conditions: verdict.conditions.map(({ key, state, text }) => ({ key, state, text })),
    cautions: verdict.cautions.map(({ kind, instrument, text, ...when }) => ({
      ...span(when),
      ...{ kind, instrument, text },
    })),
    otherReading: otherReading && standing(otherReading),
    evidence: verdict.evidence.map(({ kind, text, ...when }) => ({ ...span(when), kind, text })),
    notes: [...verdict.notes],
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
