import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/**
 * Runs an outside program over a PDF and returns what it prints; null, with the reason on the console, where the
 * program is not installed. A program that fails throws.
 */
export function run(pdf: Uint8Array, program: string, ...args: string[]): string | null {
  const folder = mkdtempSync(join(tmpdir(), 'batch-record-'));
  try {
    const file = join(folder, 'record.pdf');
    writeFileSync(file, pdf);
    return execFileSync(program, [...args.map((arg) => (arg === 'FILE' ? file : arg))], {
      encoding: 'utf8',
      stdio: 'pipe',
      maxBuffer: 64 * 1024 * 1024,
    });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    console.warn(`${program} is not installed: what it would have shown of the PDF was not checked.`);
    return null;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The text of a PDF with all white space made single spaces, of the first so many pages or of all; null where poppler is not installed. */
export function textOf(pdf: Uint8Array, pages?: number): string | null {
  const upTo = pages === undefined ? [] : ['-l', `${pages}`];
  return run(pdf, 'pdftotext', '-layout', ...upTo, 'FILE', '-')?.replaceAll(/\s+/g, ' ') ?? null;
}

/** The text as a screen reader would be given it; null where poppler is not installed. */
export function readAloud(pdf: Uint8Array): string | null {
  return run(pdf, 'pdfinfo', '-struct-text', 'FILE');
}
