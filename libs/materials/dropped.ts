import { contradictionsIn } from './contradictions.js';
import { eachFigure, type DroppedFigure, type MaterialFigures, materialFigures } from './figures.js';

/**
 * Figures of the list that are not used beside what was measured, since the two cannot be of one material. `used` is what
 * `withMeasured` made of `listed`. What only gave way to two that say it is not among them.
 */
export function droppedOf(listed: MaterialFigures, used: MaterialFigures): DroppedFigure[] {
  const measured = materialFigures.filter((figure) => (used[figure]?.measuredOn ?? null) !== null);
  return materialFigures.flatMap((figure) => {
    const dropped = listed[figure];
    if (!dropped || used[figure]) return [];
    const pairWith = (beside: (typeof measured)[number]) =>
      eachFigure((one) => (one === figure ? dropped : one === beside ? used[beside] : null));
    const beside = measured.find((one) => contradictionsIn(listed.kind, pairWith(one)).length > 0);
    const figureBeside = beside && used[beside];
    return figureBeside ? [{ figure, listed: dropped.typical, beside, measured: figureBeside.typical }] : [];
  });
}
