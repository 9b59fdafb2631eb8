import type { MaterialFigure } from '#libs/materials';

/** Figures of a material within a sentence. */
export const figureNames: Readonly<Record<MaterialFigure, string>> = {
  nitrogenPercentDry: 'nitrogen',
  carbonPercentDry: 'carbon',
  carbonToNitrogen: 'C:N',
  ashPercentDry: 'ash',
  moisturePercent: 'moisture',
  bulkDensityKgM3: 'bulk density',
};
