import { CourseWriter, type Course, type Finding } from './course.js';
import type { Moment } from './moments.js';
import type { Terms } from './terms.js';

/**
 * Time between two neighbouring checks is credited when both held and they are no further apart than the longest gap.
 * Nothing is credited across a check that did not hold, and no crossing of the threshold is guessed between two checks.
 */
export function courseByHours(
  moments: readonly Moment[],
  judge: (moment: Moment) => Finding,
  terms: Terms,
): Course {
  const course = new CourseWriter();
  let shownMs: number | null = null;
  let heldMs: number | null = null;
  for (const moment of moments) {
    const finding = judge(moment);
    if (finding === moment.lack) {
      course.note(finding, moment);
      continue;
    }
    if (
      moment.lack === null &&
      course.running &&
      shownMs !== null &&
      moment.atMs - shownMs > terms.longestGapMs
    ) {
      course.gap(shownMs, moment.atMs);
    }
    course.note(finding, moment);
    if (finding === 'held') {
      if (heldMs !== null && course.running) course.credit(heldMs, moment.atMs);
      course.hold(moment.atMs);
    } else if (finding !== 'after-turn') {
      course.breakOff();
    }
    heldMs = finding === 'held' ? moment.atMs : null;
    if (moment.lack === null) shownMs = moment.atMs;
  }
  return {
    stretches: course.stretches,
    incidents: course.incidents,
    lastShownMs: shownMs,
    silentAfterMs: shownMs === null ? null : shownMs + terms.longestGapMs,
  };
}
