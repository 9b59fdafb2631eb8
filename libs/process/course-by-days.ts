import type { LocalDay, SiteCalendar } from './calendar.js';
import { CourseWriter, type Course, type Finding } from './course.js';
import type { Moment } from './moments.js';
import type { Span } from './verdict.js';

/**
 * A local day is credited when it lies wholly within the period, has at least one check that counts, and every check on
 * it held: the day on which raw material went in and the day that is not over yet are not credited. A day without a
 * check that counts is a gap.
 */
export function courseByDays(
  moments: readonly Moment[],
  judge: (moment: Moment) => Finding,
  period: Span,
  calendar: SiteCalendar,
): Course {
  const course = new CourseWriter();
  let shown: LocalDay | null = null;
  let lastShownMs: number | null = null;
  for (const { day, moments: visits } of byLocalDay(moments, calendar)) {
    const last = visits.findLast((visit) => visit.lack === null);
    if (last !== undefined && course.running && shown !== null && shown.endMs < day.startMs) {
      course.gap(shown.endMs, day.startMs);
    }
    const whole = period.fromMs <= day.startMs && day.endMs <= period.toMs;
    if (holdDay(course, visits, judge) && whole) course.creditDay(day.startMs, day.endMs);
    if (last !== undefined) {
      shown = day;
      lastShownMs = last.atMs;
    }
  }
  const silentAfterMs = shown === null ? null : calendar.dayOf(shown.endMs).endMs;
  return { stretches: course.stretches, incidents: course.incidents, lastShownMs, silentAfterMs };
}

/** Writes one day's checks down; true when at least one held and none spoke against the day. */
function holdDay(
  course: CourseWriter,
  visits: readonly Moment[],
  judge: (moment: Moment) => Finding,
): boolean {
  let held = false;
  let excused = false;
  let failed = false;
  for (const moment of visits) {
    const finding = judge(moment);
    course.note(finding, moment);
    if (finding === 'below-threshold' || finding === 'above-limit') {
      failed = true;
      course.breakOff();
    } else if (finding === 'after-turn') {
      excused = true;
    } else if (finding === 'held' && !failed) {
      held = true;
      course.hold(moment.atMs);
    }
  }
  return held && !excused && !failed;
}

function* byLocalDay(
  moments: readonly Moment[],
  calendar: SiteCalendar,
): Generator<{ day: LocalDay; moments: Moment[] }> {
  let group: { day: LocalDay; moments: Moment[] } | null = null;
  for (const moment of moments) {
    if (group === null || group.day.endMs <= moment.atMs) {
      if (group !== null) yield group;
      group = { day: calendar.dayOf(moment.atMs), moments: [] };
    }
    group.moments.push(moment);
  }
  if (group !== null) yield group;
}
