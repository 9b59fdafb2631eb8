import type { ProcessRule, Required, Span, Verdict } from '#libs/process';
import { celsiusOf } from '#libs/quantities';
import type { ProcessDto, ProcessRuleDto, RequiredDto } from './process.dto.js';

const NO_RULE =
  'No process rule is named for this batch, neither by the crew nor by a permit in force when it began, so there is ' +
  'nothing to judge it by. Ask with ?rule= to see it under one.';

export function processView(ruled: { rule: ProcessRule; verdict: Verdict } | null): ProcessDto {
  if (ruled === null) return withoutRule();
  const { rule, verdict } = ruled;
  const { code, citation, title, textStatus } = rule;
  const { reading, status, creditedHours, creditedDays, heatIntegral, notes } = verdict;
  return {
    rule: { code, citation, title, textStatus },
    ...{ reading, status, creditedHours, creditedDays },
    turns: verdict.turnsCredited,
    required: requiredView(verdict.required),
    clockStartedAt: isoOf(verdict.clockStartedAtMs),
    metAt: isoOf(verdict.metAtMs),
    creditedSpans: verdict.creditedSpans.map(spanView),
    evidence: verdict.evidence.map(({ kind, text, checkId, ...span }) => ({
      ...spanView(span),
      ...{ kind, text, checkId },
    })),
    notes: [...notes],
    timeAboveHours: verdict.timeAboveHours.map(({ thresholdDeciC, hours }) => ({
      temperatureC: celsiusOf(thresholdDeciC),
      hours,
    })),
    heatIntegral: heatIntegral && {
      ...spanView(heatIntegral),
      holdingTimes: heatIntegral.holdingTimes,
      citation: heatIntegral.citation,
    },
  };
}

export function ruleView(rule: ProcessRule): ProcessRuleDto {
  const { code, title, jurisdiction, citation, year, textStatus, textSource, duration, minimumDepthMm } =
    rule;
  const { basis, continuity, governing, minimumProbes, longestGapHours, graceAfterTurnHours } = rule;
  return {
    ...{ code, title, jurisdiction, citation, year, textStatus, textSource },
    thresholdC: celsiusOf(rule.thresholdDeciC),
    upperLimitC: rule.upperLimitDeciC === null ? null : celsiusOf(rule.upperLimitDeciC),
    hours: 'hours' in duration ? duration.hours : null,
    days: 'days' in duration ? duration.days : null,
    ...{ basis, continuity, governing, minimumProbes, longestGapHours, graceAfterTurnHours },
    minimumDepthCm: minimumDepthMm === null ? null : minimumDepthMm / 10,
    turns: rule.turns?.count ?? 0,
    turnSpacingHours: rule.turns?.spacingHours ?? 0,
    methods: [...rule.methods],
    notes: [...rule.notes],
  };
}

function withoutRule(): ProcessDto {
  const nothing = { clockStartedAt: null, metAt: null, heatIntegral: null, required: null };
  return {
    ...{ rule: null, reading: null, status: 'insufficient-data' },
    ...{ creditedHours: 0, creditedDays: 0, turns: 0 },
    ...nothing,
    ...{ creditedSpans: [], evidence: [], notes: [NO_RULE], timeAboveHours: [] },
  };
}

function requiredView({ thresholdDeciC, upperLimitDeciC, depthMm, ...rest }: Required): RequiredDto {
  const { hours, days, turns, turnSpacingHours, probes, longestGapHours } = rest;
  return {
    ...{ hours, days, turns, turnSpacingHours, probes, longestGapHours },
    thresholdC: celsiusOf(thresholdDeciC),
    upperLimitC: upperLimitDeciC === null ? null : celsiusOf(upperLimitDeciC),
    depthCm: depthMm === null ? null : depthMm / 10,
  };
}

const spanView = ({ fromMs, toMs }: Span) => ({
  from: new Date(fromMs).toISOString(),
  to: new Date(toMs).toISOString(),
});

const isoOf = (ms: number | null) => (ms === null ? null : new Date(ms).toISOString());
