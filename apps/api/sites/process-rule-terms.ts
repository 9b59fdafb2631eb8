import { type Level, type MicrobeTest, microbeUnits, type ProcessRule, validateRule } from '#libs/process';
import { celsiusOf, lengthToMm, type Temperature, temperatureToDeciC } from '#libs/quantities';
import { type Fault, invalid, Problem } from '../http/problems/catalogue.js';
import { given } from '../http/writes/given.js';
import type {
  MicrobeTestDto,
  NewLevelDto,
  ProcessRuleDto,
  ProcessRuleTermsDto,
  RuleEntered,
} from './process-rules.dto.js';
import type { LocalRule, RuleDefinition } from './process-rules.records.js';

/** No rule asks a pile for frost, nor for more heat than boiling water has (our own bounds, against slips of the unit). */
const RULE_DECI_C = { least: 0, most: 1000 };
const DEEPEST_MM = 10_000;

/** The rule that was typed. Refuses (422), at their places, figures that no batch could meet. */
export function definitionOf(dto: ProcessRuleTermsDto): RuleDefinition {
  const { title, purpose, jurisdiction, citation, year, textStatus, textSource } = dto;
  const { basis, continuity, governing = 'coldest', minimumProbes = 1, minimumZones = 1 } = dto;
  const definition: RuleDefinition = {
    ...{ title, purpose, jurisdiction, citation, year, textStatus, textSource },
    region: dto.region ?? null,
    fromMemory: dto.fromMemory ?? [],
    thresholdDeciC: deciCOf(dto.threshold, '/threshold'),
    thresholdStrict: dto.thresholdStrict ?? false,
    upperLimitDeciC: dto.upperLimit ? deciCOf(dto.upperLimit, '/upperLimit') : null,
    duration: durationOf(dto),
    peak: dto.peak ? { ...levelOf(dto.peak, '/peak'), hours: dto.peak.hours } : null,
    average: dto.average ? levelOf(dto.average, '/average') : null,
    ...{ basis, continuity, governing, minimumProbes, minimumZones },
    minimumDepthMm: depthOf(dto),
    longestGapHours: dto.longestGapHours ?? null,
    turns: turnsOf(dto),
    graceAfterTurnHours: dto.graceAfterTurnHours ?? null,
    moisture: dto.leastMoisturePercent === undefined ? null : { leastPercent: dto.leastMoisturePercent },
    carbonToNitrogen: dto.carbonToNitrogen ?? null,
    microbes: microbesOf(dto),
    methods: [...new Set(dto.methods)],
    notes: dto.notes ?? [],
  };
  requireSound(definition);
  return definition;
}

/** The quantities of it as they were typed. */
export function enteredOf({ threshold, upperLimit, minimumDepth, peak, average }: ProcessRuleTermsDto) {
  const typed = { upperLimit, minimumDepth, peak: peak?.threshold, average: average?.threshold };
  return { threshold, ...given(typed) } satisfies RuleEntered;
}

function durationOf({ hours, days }: ProcessRuleTermsDto): ProcessRule['duration'] {
  if (hours !== undefined && days !== undefined) throw invalid('/days', 'goes without hours: one of the two');
  if (hours !== undefined) return { hours };
  if (days !== undefined) return { days };
  throw invalid('/hours', 'is needed, or days: how long the batch must be so hot');
}

function turnsOf({ turns }: ProcessRuleTermsDto): ProcessRule['turns'] {
  if (!turns) return null;
  const { count, spacingHours = 0, hotHoursBefore = null } = turns;
  return { count, spacingHours, hotHoursBefore };
}

/** A test in a unit that no figure comes in, or below nothing, could never be passed. */
function microbesOf({ microbes }: ProcessRuleTermsDto): ProcessRule['microbes'] {
  if (!microbes) return null;
  const { logic, tests, citation, textStatus } = microbes;
  const tested = tests.map((test, index) => testOf(test, `/microbes/tests/${index}`));
  return { logic, tests: tested, citation, textStatus };
}

function testOf({ microbe, below, atMost, unit }: MicrobeTestDto, pointer: string): MicrobeTest {
  const units = microbeUnits(microbe);
  if (!units.includes(unit)) throw invalid(`${pointer}/unit`, `must be ${units.join(' or ')}`);
  if (below !== undefined && atMost !== undefined) {
    throw invalid(`${pointer}/atMost`, 'goes without below: one of the two');
  }
  if (atMost !== undefined) return { microbe, atMost, unit };
  if (below === undefined) throw invalid(`${pointer}/below`, 'is needed, or atMost: how much may be there');
  if (below <= 0) throw invalid(`${pointer}/below`, 'must be above 0: nothing is less than none');
  return { microbe, below, unit };
}

function levelOf({ threshold, strict = false }: NewLevelDto, pointer: string): Level {
  return { thresholdDeciC: deciCOf(threshold, `${pointer}/threshold`), strict };
}

function deciCOf(typed: Temperature, pointer: string): number {
  const deciC = temperatureToDeciC(typed);
  if (deciC >= RULE_DECI_C.least && deciC <= RULE_DECI_C.most) return deciC;
  const said = `${typed.value} ${typed.unit}${typed.unit === 'F' ? ` (${celsiusOf(deciC)} C)` : ''}`;
  throw invalid(pointer, `${said} is none that a pile is asked for; is the unit right?`);
}

function depthOf({ minimumDepth }: ProcessRuleTermsDto): number | null {
  if (!minimumDepth) return null;
  const depthMm = lengthToMm(minimumDepth);
  if (depthMm > DEEPEST_MM) throw invalid('/minimumDepth', 'is deeper than any pile; is the unit right?');
  return depthMm;
}

/** The places of the body, by the places of the rule, where the two have other names. */
const PLACES: Record<string, string> = {
  thresholdDeciC: '/threshold',
  upperLimitDeciC: '/upperLimit',
  minimumDepthMm: '/minimumDepth',
  moisture: '/leastMoisturePercent',
};

function requireSound(definition: RuleDefinition): void {
  // The code is of a fixed form already, and the version is ours.
  const problems = validateRule({ ...definition, code: 'local', version: 1 });
  if (problems.length === 0) return;
  throw new Problem(
    'invalid',
    undefined,
    problems.map((problem) => faultOf(problem, 'hours' in definition.duration ? '/hours' : '/days')),
  );
}

/** A problem begins with the place it is about, "turns.count is …", or else is about the basis. */
function faultOf(problem: string, duration: string): Fault {
  const [, place = '', rest = ''] =
    /^([a-z]+[A-Z.]\S*|[a-z]+)( (?:is|has|goes|names|must|asks|lies).*)$/s.exec(problem) ?? [];
  if (place === '') return { pointer: '/basis', detail: problem };
  if (place === 'duration') return { pointer: duration, detail: rest.trim() };
  const [field = '', ...inner] = place.split('.');
  const path = inner.map((name) => PLACES[name] ?? `/${name}`).join('');
  const pointer = field === 'moisture' ? '/leastMoisturePercent' : `${PLACES[field] ?? `/${field}`}${path}`;
  return { pointer, detail: rest.trim().replaceAll(/(?:DeciC|Mm)\b/g, '') };
}

export function ruleView(rule: ProcessRule, kept: LocalRule | null): ProcessRuleDto {
  const { code, version, title, purpose, jurisdiction, region, citation, year, textStatus, textSource } =
    rule;
  const { basis, continuity, governing, minimumProbes, minimumZones, duration, peak, turns } = rule;
  const { longestGapHours, graceAfterTurnHours, thresholdStrict } = rule;
  return {
    ...{ code, version, local: kept !== null, title, purpose, jurisdiction, region, citation, year },
    ...{ textStatus, textSource, thresholdStrict, basis, continuity, governing, minimumProbes, minimumZones },
    fromMemory: [...rule.fromMemory],
    thresholdC: celsiusOf(rule.thresholdDeciC),
    upperLimitC: rule.upperLimitDeciC === null ? null : celsiusOf(rule.upperLimitDeciC),
    hours: 'hours' in duration ? duration.hours : null,
    days: 'days' in duration ? duration.days : null,
    peak: peak && { ...levelView(peak), hours: peak.hours },
    average: rule.average && levelView(rule.average),
    minimumDepthCm: rule.minimumDepthMm === null ? null : rule.minimumDepthMm / 10,
    ...{ longestGapHours, graceAfterTurnHours },
    turns: turns?.count ?? 0,
    turnSpacingHours: turns?.spacingHours ?? 0,
    hotHoursBeforeTurn: turns?.hotHoursBefore ?? null,
    leastMoisturePercent: rule.moisture?.leastPercent ?? null,
    carbonToNitrogen: rule.carbonToNitrogen && { ...rule.carbonToNitrogen },
    microbes: rule.microbes && { ...rule.microbes, tests: rule.microbes.tests.map((test) => ({ ...test })) },
    methods: [...rule.methods],
    notes: [...rule.notes],
    recordedAt: kept?.recordedAt.toISOString() ?? null,
    entered: kept?.entered ?? null,
  };
}

const levelView = ({ thresholdDeciC, strict }: Level) => ({
  thresholdC: celsiusOf(thresholdDeciC),
  strict,
});
