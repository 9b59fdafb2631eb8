import type { BatchRecord, Check } from '#libs/documents';
import { dayAt } from './example-checks.js';
import { signedRecord } from './example.js';

/** A batch of which nothing is known but that it was begun. */
export function bareRecord(): BatchRecord {
  const record = signedRecord();
  return {
    ...record,
    status: 'draft',
    version: 1,
    amends: null,
    asOf: '2024-04-19T09:05:00-06:00',
    jurisdictions: [],
    permit: null,
    batch: {
      code: 'KL-2024-008',
      bay: null,
      method: 'turned-bins',
      stage: 'building',
      stages: [{ stage: 'building', enteredAt: '2024-04-19T09:05:00-06:00', reason: null }],
    },
    intake: {
      dropOffs: 0,
      firstAt: null,
      lastAt: null,
      acceptedKg: 0,
      weighedKg: 0,
      sharedKg: 0,
      estimatedKg: 0,
      materials: [],
      origins: [],
      amendments: [],
      rejects: [],
      pulledKg: 0,
      residueKg: 0,
    },
    merges: [],
    mix: null,
    checks: [],
    loggers: [],
    actions: [],
    verdict: null,
    furtherVerdicts: [],
    cure: null,
    samples: [],
    screenings: [],
    piles: [],
    balance: null,
    holds: [],
    gates: [],
    release: null,
    distributions: [],
    methods: [],
  };
}

/** A long batch: `checks` visits two hours apart, four probes each. */
export function longRecord(checks: number): BatchRecord {
  const visits = Array.from({ length: checks }, (_unused, index): Check => {
    const wave = (phase: number): number => Math.round((58 + 6 * Math.sin(index / 9 + phase)) * 10) / 10;
    const readings = ['north', 'east', 'south', 'west'].map((position, place) => ({
      position,
      zone: null,
      depthCm: 46,
      temperatureC: wave(place / 2),
      instrument: null,
      entered: null,
    }));
    return {
      id: `visit-${index}`,
      occurredAt: dayAt(0, index * 2),
      readings,
      governingC: Math.min(...readings.map(({ temperatureC }) => temperatureC)),
      counted: true,
      remark: null,
      moisture: index % 12 === 0 ? 'moist' : null,
      moisturePercent: null,
      odour: index % 12 === 0 ? 'earthy' : null,
      oxygenPercent: null,
      ambientC: null,
      ...{ signs: null, texture: null, inputsVisible: null },
      note: index % 50 === 7 ? 'Windy; read from the lee side.' : null,
      warnings: [],
      by: 'logger 4',
    };
  });
  return { ...signedRecord(), checks: visits };
}
