import { hourMs } from './calendar.js';

/** How a figure that is not whole is shown: never so that it seems on the better side of a limit than it is. */
export type Rounding = 'down' | 'up';

/** "55 °C (131 °F)". */
export function sayTemperature(deciC: number, rounding: Rounding = 'down'): string {
  return `${sayTenths(deciC, rounding)} °C (${sayTenths((deciC * 9) / 5 + 320, rounding)} °F)`;
}

/** "46.5 hours", rounded down to the tenth so that 359.99 never reads 360. */
export function sayHours(ms: number): string {
  const hours = Math.floor((ms * 10) / hourMs) / 10;
  return hours === 1 ? '1 hour' : `${hours} hours`;
}

/** "1 turn", "5 turns". */
export function sayCount(count: number, noun: string): string {
  return count === 1 ? `1 ${noun}` : `${count} ${noun}s`;
}

/** "a, b and c". */
export function sayList(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1) ?? ''}`;
}

function sayTenths(tenths: number, rounding: Rounding): string {
  return String((rounding === 'down' ? Math.floor(tenths) : Math.ceil(tenths)) / 10);
}
