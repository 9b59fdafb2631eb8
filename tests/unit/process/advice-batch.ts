import { adviceOf, type Advice, type AdviceFacts, type ObservedCheck } from '#libs/process';
import { at, raw, timeZone } from './batch.js';

type Seen = Partial<Omit<ObservedCheck, 'id' | 'occurredAtMs' | 'readings'>>;

/** A check so many days after hour 0, with one probe for each °C. */
export function visit(days: number, celsius: readonly number[], seen: Seen = {}): ObservedCheck {
  return {
    id: `visit-${days}`,
    occurredAtMs: at(days * 24),
    readings: celsius.map((value, index) => ({
      position: `core-${index + 1}`,
      depthMm: 450,
      temperatureDeciC: Math.round(value * 10),
    })),
    moisture: null,
    moisturePercent: null,
    odour: null,
    oxygenPercent: null,
    ambientDeciC: null,
    signs: null,
    texture: null,
    inputsVisible: null,
    ...seen,
  };
}

/** A turned pile that raw material went into at hour 0 and that is active since, unless an example says otherwise. */
export function pile(facts: Partial<AdviceFacts> = {}): AdviceFacts {
  return {
    timeZone,
    stage: 'active',
    stageSinceMs: at(0),
    method: 'turned-windrow',
    rawAdditions: [raw(0)],
    turns: [],
    checks: [],
    waterings: [],
    mix: null,
    ...facts,
  };
}

export const mix = (figures: Partial<NonNullable<AdviceFacts['mix']>> = {}) => ({
  ...{
    massG: 2_000_000,
    volumeMl: null,
    carbonToNitrogen: null,
    moisturePercent: null,
    bulkDensityKgM3: null,
    asked: [],
  },
  ...figures,
});

/** Advice an hour after the last check, unless an example says so many days after hour 0. */
export function advise(facts: Partial<AdviceFacts>, days?: number): Advice[] {
  const checks = facts.checks ?? [];
  const lastMs = Math.max(at(0), ...checks.map(({ occurredAtMs }) => occurredAtMs));
  return adviceOf(pile(facts), days === undefined ? lastMs + 3_600_000 : at(days * 24));
}

export const keysOf = (advice: readonly Advice[]) => advice.map(({ key }) => key);

/** The advice of one key; throws where it was not given. */
export function find(advice: readonly Advice[], key: Advice['key']): Advice {
  const found = advice.find((each) => each.key === key);
  if (!found) throw new Error(`no ${key} among ${keysOf(advice).join(', ') || 'nothing'}`);
  return found;
}

export const causesOf = (advice: Advice) => advice.causes.map(({ key }) => key);
export const actionsOf = (advice: Advice) => advice.actions.map(({ key }) => key);
export const cautionsOf = (advice: Advice, key: string) =>
  advice.actions.find((action) => action.key === key)?.cautions.map((caution) => caution.key);
