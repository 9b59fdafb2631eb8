import { hourMs } from './calendar.js';
import type { Level } from './rule.js';

/** How a figure that is not whole is shown: never so that it seems on the better side of a limit than it is. */
export type Rounding = 'down' | 'up';

/** "55 °C (131 °F)". */
export function sayTemperature(deciC: number, rounding: Rounding = 'down'): string {
  return `${sayTenths(deciC, rounding)} °C (${sayTenths((deciC * 9) / 5 + 320, rounding)} °F)`;
}

/** "at 55 °C (131 °F) or more", "above 40 °C (104 °F)". */
export function sayLevel({ thresholdDeciC, strict }: Level): string {
  return strict ? `above ${sayTemperature(thresholdDeciC)}` : `at ${sayTemperature(thresholdDeciC)} or more`;
}

/** "at or above 55 °C (131 °F)", "above 40 °C (104 °F)". */
export function sayReached({ thresholdDeciC, strict }: Level): string {
  return `${strict ? 'above' : 'at or above'} ${sayTemperature(thresholdDeciC)}`;
}

/** "below 55 °C (131 °F)", "not above 40 °C (104 °F)". */
export function sayMissed({ thresholdDeciC, strict }: Level): string {
  return `${strict ? 'not above' : 'below'} ${sayTemperature(thresholdDeciC)}`;
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

/** "38.2", of a plain figure. */
export function sayFigure(figure: number, rounding: Rounding): string {
  // 16.1 times 10 is a trifle more than 161.
  const whole = Math.round(figure * 10);
  return sayTenths(whole / 10 === figure ? whole : figure * 10, rounding);
}

function sayTenths(tenths: number, rounding: Rounding): string {
  return String((rounding === 'down' ? Math.floor(tenths) : Math.ceil(tenths)) / 10);
}
