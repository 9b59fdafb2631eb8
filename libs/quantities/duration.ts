// Of elapsed time, in milliseconds. A local day of a site may have 23 hours or 25: that is the calendar's.
export const minuteMs = 60_000;
export const hourMs = 60 * minuteMs;
export const dayMs = 24 * hourMs;
