import type { DiversionFigures, FactorUsed, GreenhouseEstimate } from '#libs/accounting';
import { daysInWords, type Method } from '#libs/documents';
import { periodWarnings } from './period-warnings.js';
import type { ReportSettings } from './reports.records.js';

const MASSES: readonly Method[] = [
  {
    title: 'Accepted and diverted',
    text:
      'Accepted is what was dropped off, less what was pulled out of it before it was accepted. Diverted is accepted less the ' +
      'residue that was taken out of batches in the same period and went to landfill. Loads that were turned away were ' +
      'never accepted. Masses are wet, as they were weighed or estimated.',
    source:
      '14 CCR 18815.9(a): residuals sent to disposal are reported apart from what was received; the sum: own rule',
  },
  {
    title: 'Mass',
    text:
      'Kept as whole grams, rounded half to even once, when entered. Totals are sums of grams and are rounded once, when they are ' +
      'printed: printed rows need not add up to a printed total.',
    source: 'own rule; 1 lb = 453.59237 g and 1 short ton = 2,000 lb exactly: NIST Handbook 44, Appendix C',
  },
  {
    title: 'Weighed, shared, estimated',
    text:
      'Weighed is what was put on a scale lot by lot. Shared is what was weighed with its whole haul at the yard and shared back ' +
      'to its lots by their volume, by the largest remainder. Estimated is a volume times the bulk density of its material.',
    source: '14 CCR 17409.5.9(b): by scale, an estimate where there is none; the shares: own rule',
  },
  {
    title: 'Period',
    text:
      'Days are those of each site’s own clock, the last day of the period included. What happened is counted when it happened, ' +
      'and not when it was typed in: residue of material that came in earlier is in the period in which it was taken out.',
    source: 'own rule',
  },
  {
    title: 'In stock',
    text:
      'What lay there when the period began and ended, as it had gone in: what is lost to the air is known only when a batch is ' +
      'screened.',
    source: 'conservation of mass',
  },
];

const RESIDUE: Record<ReportSettings['residueTo'], Method> = {
  traced: {
    title: 'Residue, traced',
    text:
      'The residue of a batch is shared back to where its material came from, by the mass of each in the batch, through overs ' +
      'and merged batches, by the largest remainder: the shares make the whole to the gram.',
    source: 'own rule',
  },
  site: {
    title: 'Residue, of the site',
    text: 'The residue of a batch is booked to the jurisdiction in which its yard stands, wherever its material came from.',
    source: '14 CCR 18815.5(a)(1)(C): tons assigned to the jurisdiction within which the site is located',
  },
};

/** How the figures are made, to whom residue is booked among them. */
export const methodsOf = ({ residueTo }: ReportSettings): Method[] => [...MASSES, RESIDUE[residueTo]];

/** Every factor by which something in the report was worked out, with its source. */
export function factorsOf(
  densities: readonly { material: string; densityKgM3: number; source: string }[],
  greenhouse: GreenhouseEstimate | null,
): FactorUsed[] {
  return [
    {
      name: 'Short ton',
      value: 907.18474,
      unit: 'kg',
      source: 'NIST Handbook 44, Appendix C (exact)',
    },
    ...densities.map(({ material, densityKgM3, source }) => ({
      name: `Bulk density of ${material}`,
      value: densityKgM3,
      unit: 'kg/m³',
      source,
    })),
    ...(greenhouse?.factors ?? []),
  ];
}

/** What the figures do not say; `others` are issued reports that share days with this one. */
export function limitsOf(
  { from, to, total }: DiversionFigures,
  { rate, greenhouse }: ReportSettings,
  others: readonly { from: string; to: string; version: number }[],
): string[] {
  const mass =
    'Accepted mass is what was brought, water included. It is not what would otherwise have gone to landfill: some of ' +
    'it may have been composted at home.';
  return [
    ...others.map(
      (other) =>
        `It shares days with the report of ${daysInWords(other.from, other.to)} (version ${other.version}): what came on ` +
        'those days is in both, and the two are not to be added.',
    ),
    ...periodWarnings(from, to).map(({ text }) => text),
    mass,
    'Diverted does not say that everything became compost: part of it is lost to the air as water vapour and carbon dioxide.',
    ...(total.estimatedKg > 0
      ? [
          'Estimated masses rest on a bulk density, which varies with moisture and with how a container is filled.',
        ]
      : []),
    ...(total.elsewhereKg > 0
      ? [
          'Part of what was accepted was composted by somebody else; what residue was taken out of it there is not known here.',
        ]
      : []),
    ...(total.divertedKg < 0
      ? [
          'Diverted is below nothing: more residue of earlier material went to landfill in the period than material came in.',
        ]
      : []),
    rate === null
      ? 'No percentage is given: the mass that the municipality disposed of was not supplied.'
      : 'The percentage rests on the mass disposed of as it was supplied; it was not checked here.',
    ...(greenhouse === null
      ? []
      : ['The greenhouse estimate is that of the set of factors named with it; nothing was measured.']),
    'The report follows the records as they stood when it was issued. It is no finding of a permit or a law.',
  ];
}
