import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';

const folder = process.env['HEAPWRIGHT_REFERENCE_DATA'] ?? '';

/** Public data that is not copied into the project. Says so on the console when it is not at hand. */
export function hasOpenData(...names: string[]): boolean {
  const absent = names.filter((name) => !existsSync(join(folder, name)));
  if (absent.length > 0) {
    console.warn(
      `NOT CHECKED against open data: ${absent.join(', ')} not found; set HEAPWRIGHT_REFERENCE_DATA to its folder.`,
    );
  }
  return absent.length === 0;
}

export function openDataText(name: string): string {
  return readFileSync(join(folder, name), 'utf8');
}

export function openData(name: string): Record<string, string>[] {
  return parse(openDataText(name), { columns: true, bom: true, relax_quotes: true });
}
