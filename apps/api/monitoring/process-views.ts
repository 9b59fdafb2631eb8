import { type Caution, type ProcessRule, requirementOf, type Span, type Verdict } from '#libs/process';
import { celsiusOf } from '#libs/quantities';
import type { FurtherVerdictDto, ProcessDto, RuleNameDto } from './process.dto.js';
import type { RuledVerdict } from './process.service.js';

const NO_RULE =
  'No process rule is named for this batch, neither by the crew nor by a permit in force when it began, so there is ' +
  'nothing to judge it by. Ask with ?rule= to see it under one.';

export function processView(ruled: RuledVerdict | null, others: FurtherVerdictDto[]): ProcessDto {
  if (ruled === null) return { ...withoutRule(), others };
  const { rule, verdict } = ruled;
  const { heatIntegral } = verdict;
  return {
    ...verdictView(ruled),
    rule: ruleNameView(rule),
    ...{ purpose: rule.purpose, reading: verdict.reading, required: requirementOf(verdict.required) },
    creditedSpans: verdict.creditedSpans.map(spanView),
    timeAboveHours: verdict.timeAboveHours.map(({ thresholdDeciC, hours }) => ({
      temperatureC: celsiusOf(thresholdDeciC),
      hours,
    })),
    heatIntegral: heatIntegral && {
      ...spanView(heatIntegral),
      holdingTimes: heatIntegral.holdingTimes,
      citation: heatIntegral.citation,
    },
    others,
  };
}

export function furtherView(ruled: RuledVerdict, asked: boolean): FurtherVerdictDto {
  const { rule, verdict } = ruled;
  return {
    ...verdictView(ruled),
    asked,
    rule: ruleNameView(rule),
    ...{ purpose: rule.purpose, reading: verdict.reading, required: requirementOf(verdict.required) },
  };
}

function verdictView({ verdict, otherReading }: RuledVerdict) {
  return {
    ...standingView(verdict),
    clockStartedAt: isoOf(verdict.clockStartedAtMs),
    conditions: verdict.conditions.map(({ key, state, text }) => ({ key, state, text })),
    cautions: verdict.cautions.map(cautionView),
    notes: [...verdict.notes],
    otherReading: otherReading && { reading: otherReading.reading, ...standingView(otherReading) },
  };
}

const standingView = (verdict: Verdict) => ({
  status: verdict.status,
  creditedHours: verdict.creditedHours,
  creditedDays: verdict.creditedDays,
  turns: verdict.turnsCredited,
  metAt: isoOf(verdict.metAtMs),
  evidence: verdict.evidence.map(({ kind, text, checkId, ...span }) => ({
    ...spanView(span),
    ...{ kind, text, checkId },
  })),
});

const cautionView = ({ kind, instrument, text, ...span }: Caution) => ({
  ...spanView(span),
  ...{ kind, instrument, text },
});

function ruleNameView(rule: ProcessRule): RuleNameDto {
  const { code, version, title, citation, jurisdiction, region, textStatus, fromMemory } = rule;
  return { code, version, title, citation, jurisdiction, region, textStatus, fromMemory: [...fromMemory] };
}

function withoutRule(): Omit<ProcessDto, 'others'> {
  const nothing = {
    clockStartedAt: null,
    metAt: null,
    heatIntegral: null,
    required: null,
    otherReading: null,
  };
  return {
    ...{ rule: null, purpose: null, reading: null, status: 'insufficient-data' },
    ...{ creditedHours: 0, creditedDays: 0, turns: 0, conditions: [], cautions: [] },
    ...nothing,
    ...{ creditedSpans: [], evidence: [], notes: [NO_RULE], timeAboveHours: [] },
  };
}

const spanView = ({ fromMs, toMs }: Span) => ({
  from: new Date(fromMs).toISOString(),
  to: new Date(toMs).toISOString(),
});

const isoOf = (ms: number | null) => (ms === null ? null : new Date(ms).toISOString());
