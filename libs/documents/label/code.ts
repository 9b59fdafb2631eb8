import { encodeQR } from 'qr';

export interface CodeDrawing {
  /** Modules along one side, with the quiet zone of four on each side that ISO/IEC 18004 asks for. */
  size: number;
  /** SVG path data in modules: one rectangle for each run of dark ones in a row. */
  path: string;
}

const QUIET = 4;

/** A QR code of a text as one path; level M, which stands 15 % of dirt. Throws RangeError where it is too long for any. */
export function codeOf(text: string): CodeDrawing {
  const rows = encodeQR(text, 'raw', { ecc: 'medium', border: QUIET });
  const path = rows.flatMap((row, y) =>
    runsOf(row).map(([x, length]) => `M${x} ${y}h${length}v1h-${length}Z`),
  );
  return { size: rows.length, path: path.join('') };
}

/** Where runs of dark modules begin, and how long they are. */
function runsOf(row: readonly boolean[]): [start: number, length: number][] {
  const runs: [number, number][] = [];
  row.forEach((dark, x) => {
    const last = runs.at(-1);
    if (dark && last && row[x - 1]) last[1] += 1;
    else if (dark) runs.push([x, 1]);
  });
  return runs;
}
