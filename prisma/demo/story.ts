import type { Temporal } from 'temporal-polyfill';
import type { Caller } from './client.js';
import type { Course } from './pile.js';
import type { YardStory } from './places.js';

/** What the permits of both yards ask for. */
export const CURE_DAYS = 30;
export const REHEAT = { value: 113, unit: 'F' } as const;

export interface Yard extends YardStory {
  id: string;
  hubIds: string[];
  crew: Caller;
  manager: Caller;
  probeId: string;
  /** The thermometer that a logger is, where the yard has one. */
  loggerId: string | null;
  /** In which it counts its stock and measures it out. */
  barrowId: string;
  /** Oversize that waits for the next load. */
  overs: { batchId: string; massKg: number }[];
}

export interface Pile {
  id: string;
  code: string;
  bay: string;
  course: Course;
  stage: 'building' | 'active' | 'curing' | 'gone';
  since: Temporal.PlainDate;
  /** Its probes are read by a logger once it is closed. */
  logged: boolean;
}
