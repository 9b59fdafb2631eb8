import type { Finding } from './course.js';
import type { CourseWriter } from './course-writer.js';
import type { Moment } from './moments.js';

/**
 * Time between two neighbouring checks is credited when both held and they are no further apart than the longest gap.
 * Nothing is credited across a check that did not hold, and no crossing of the threshold is guessed between two checks.
 */
export function lookByHours(writer: CourseWriter, finding: Finding, moment: Moment): void {
  const { course, terms } = writer;
  const { shownMs, heldMs } = course;
  if (finding === moment.lack) {
    writer.note(finding, moment);
    return;
  }
  const shows = moment.lack === null;
  if (shows && course.running && shownMs !== null && moment.atMs - shownMs > terms.longestGapMs) {
    writer.gap(shownMs, moment.atMs);
  }
  writer.note(finding, moment);
  if (finding === 'held') {
    if (heldMs !== null && course.running) writer.credit(heldMs, moment.atMs);
    writer.hold(moment);
  } else if (finding === 'after-turn') {
    course.heldMs = null;
  } else {
    writer.breakOff();
  }
  if (shows) course.shownMs = moment.atMs;
}
