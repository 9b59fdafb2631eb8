import type { DiversionFigures, GreenhouseEstimate } from '#libs/accounting';
import { type CsvLine, line, numberLines, textLines } from './csv-line.js';

export function figureLines(figures: DiversionFigures): CsvLine[] {
  return [
    line('convention', '', '', 'residueTo', figures.residueTo),
    ...numberLines('total', '', '', figures.total),
    ...figures.byMonth.flatMap((month) => numberLines('month', month.month, '', month)),
    ...figures.byMaterial.flatMap((one) => numberLines('material', one.material, one.name, one)),
    ...figures.bySite.flatMap((one) => numberLines('site', one.code, one.name, one)),
    ...numberLines('refused', '', '', figures.refused),
    ...figures.pulled.flatMap((one) => numberLines('pulled', one.wentTo, '', one)),
    ...figures.residue.flatMap((one) => numberLines('residue', one.wentTo, '', one)),
    line('visits', '', '', 'visits', figures.visits),
    ...figures.byDepositor.flatMap((one) => numberLines('depositor', one.depositor, '', one)),
    ...numberLines('stock-at-start', figures.stockAtStart.on, '', figures.stockAtStart),
    ...numberLines('stock-at-end', figures.stockAtEnd.on, '', figures.stockAtEnd),
  ];
}

export function greenhouseLines(estimate: GreenhouseEstimate): CsvLine[] {
  const { set, title, version, source, lines, total, unknownKg, factors, notes } = estimate;
  return [
    ...textLines('greenhouse', set, title, { version, source }),
    ...lines.flatMap((one) => [
      line('greenhouse', set, one.category, 'materials', one.materials.join('; ')),
      ...numberLines('greenhouse', set, one.category, one),
    ]),
    ...numberLines('greenhouse', set, 'total', total),
    line('greenhouse', set, 'unknown', 'mass', unknownKg, 'kg'),
    ...factors.flatMap((factor) => [
      line('greenhouse', set, factor.name, 'factor', factor.value, factor.unit),
      line('greenhouse', set, factor.name, 'source', factor.source),
    ]),
    ...notes.map((note) => line('greenhouse', set, title, 'note', note)),
  ];
}
