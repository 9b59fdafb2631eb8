import { SiteCalendar } from '../calendar.js';
import type { Caution } from '../facts.js';
import type { Span } from '../verdict.js';
import { sayCount } from '../words.js';
import { saySpan } from './stretches.js';

/** Readings that the yard set aside, since the probes were not in the pile: nothing reads them. */
export interface SetAside extends Span {
  readonly logger: string;
  /** One probe; null: all that the logger has in the batch. */
  readonly position: string | null;
  /** How many there are of the batch. */
  readonly readings: number;
  readonly reason: string;
  readonly recordedAtMs: number;
  /** Who set them aside, as a record names people: by initials. */
  readonly by: string;
}

/** One caution each, so that nobody takes the silence of a logger for a gap. */
export function setAsideCautions(setAside: readonly SetAside[], timeZone: string): Caution[] {
  const calendar = new SiteCalendar(timeZone);
  return setAside.map(({ fromMs, toMs, logger, position, readings, reason, recordedAtMs, by }) => {
    const what = position === null ? `logger ${logger}` : `logger ${logger} at ${position}`;
    const many = `${sayCount(readings, 'reading')} of ${what} ${saySpan({ fromMs, toMs }, calendar)}`;
    const was = readings === 1 ? 'was' : 'were';
    // A reason may be typed in lines.
    const why = reason
      .trim()
      .replaceAll(/\s+/g, ' ')
      .replace(/[^.!?]$/, '$&.');
    const text = `${many} ${was} set aside on ${calendar.say(recordedAtMs)} by ${by}, and ${was} not used: ${why}`;
    return { kind: 'set-aside', fromMs, toMs, instrument: logger, text };
  });
}
