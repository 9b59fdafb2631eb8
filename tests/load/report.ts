import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { type DiversionReport, diversionReportCsv, diversionReportPdf, sealOf } from '#libs/documents';
import { type Figure, median, milliseconds } from './measure.js';

const ROUNDS = 5;

/** A year's report drawn as PDF, and written as CSV, in this process. */
export async function reportFigures(report: DiversionReport): Promise<Figure[]> {
  const seal = sealOf(report);
  let bytes = 0;
  const draw = async () => {
    bytes = (await diversionReportPdf(report, seal)).byteLength;
  };
  const write = () => Promise.resolve(diversionReportCsv(report));
  const first = await milliseconds(draw);
  const times: number[] = [];
  const csvTimes: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    times.push(await milliseconds(draw));
    csvTimes.push(await milliseconds(write));
  }
  const { byMonth, bySite } = report.figures;
  const what = `diversion report PDF, ${byMonth.length} months × ${bySite.length} sites`;
  return [
    { what: `${what}, the first`, value: first, unit: 'ms' },
    { what, value: median(times), unit: 'ms' },
    { what: `${what}, size`, value: bytes / 1e6, unit: 'MB' },
    { what: `${what}, memory above idle`, value: memoryMb(), unit: 'MB' },
    { what: 'diversion report CSV', value: median(csvTimes), unit: 'ms' },
  ];
}

/** In a process of its own: in this one the heap has room from what was measured before. */
function memoryMb(): number {
  const script = fileURLToPath(new URL('./report-memory.js', import.meta.url));
  return Number(execFileSync(process.execPath, [script], { encoding: 'utf8' }));
}
