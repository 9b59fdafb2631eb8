import { Temporal } from 'temporal-polyfill';

export interface PeriodWarning {
  code: 'last-day-left-out';
  text: string;
}

/** A `to` that ends a month was most likely meant to be in the period, and is not. Local days, `to` excluded. */
export function periodWarnings(from: string, to: string): PeriodWarning[] {
  const end = Temporal.PlainDate.from(to);
  if (end.day < end.daysInMonth) return [];
  const { days } = Temporal.PlainDate.from(from).until(end);
  const text = `${to} is not in the period, which has ${days} ${days === 1 ? 'day' : 'days'} and ends before it.`;
  return [{ code: 'last-day-left-out', text }];
}
