import type { SiteCalendar } from '../calendar.js';
import type { Finding, OpenDay } from './course.js';
import type { CourseWriter } from './course-writer.js';
import type { Moment } from './moments.js';

/**
 * A local day is credited when it lies wholly within the period, has at least one check that counts, and every check on
 * it held: the day on which raw material went in and the day that is not over yet are not credited. A day without a
 * check that counts is a gap.
 */
export function lookByDays(
  writer: CourseWriter,
  finding: Finding,
  moment: Moment,
  calendar: SiteCalendar,
  periodFromMs: number,
): void {
  const { course } = writer;
  const day = openDay(writer, moment.atMs, calendar, periodFromMs);
  if (moment.lack === null) {
    const { shownDay } = course;
    if (course.running && shownDay !== null && shownDay.endMs < day.startMs) {
      writer.gap(shownDay.endMs, day.startMs);
    }
    course.shownDay = { startMs: day.startMs, endMs: day.endMs };
    course.shownMs = moment.atMs;
  }
  writer.note(finding, moment);
  if (finding === 'held' && !day.failed) {
    day.held = true;
    writer.hold(moment);
  } else if (finding === 'after-turn') {
    day.excused = true;
    course.heldMs = null;
  } else if (finding !== 'held' && finding !== moment.lack) {
    day.failed = true;
    writer.breakOff();
  }
}

/** The day on which something happened; the one before it is over. */
export function openDay(
  writer: CourseWriter,
  atMs: number,
  calendar: SiteCalendar,
  periodFromMs: number,
): OpenDay {
  const { course } = writer;
  if (course.day === null || course.day.endMs <= atMs) {
    closeDay(writer, periodFromMs, atMs);
    const { startMs, endMs } = calendar.dayOf(atMs);
    course.day = { startMs, endMs, held: false, excused: false, failed: false };
  }
  return course.day;
}

/** Credits the day that is open, if it was over by `toMs` and nothing speaks against it. */
export function closeDay(writer: CourseWriter, periodFromMs: number, toMs: number): void {
  const { day } = writer.course;
  if (day === null) return;
  const whole = periodFromMs <= day.startMs && day.endMs <= toMs;
  if (whole && day.held && !day.excused && !day.failed) writer.creditDay(day.startMs, day.endMs);
  writer.course.day = null;
}
