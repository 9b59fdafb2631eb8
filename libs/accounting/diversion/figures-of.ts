import { kgOf, sumG } from '#libs/quantities';
import type { ResidueShare } from './attribution.js';
import { divertedG } from './diverted.js';
import type { DiversionFigures, DivertedMasses, InStock, WentTo } from './figures.js';
import type { DiversionSums, GroupedSums, StockSums } from './sums.js';

const DISPOSED = 'landfill';

/**
 * What a jurisdiction is told of a period, from sums of grams. Each printed kilogram is one exact sum of grams. Only residue that went
 * to landfill is taken off what was accepted; what was recycled or composted by somebody else is not disposed of.
 */
export function figuresOf(sums: DiversionSums): DiversionFigures {
  const { movements, residue, materials, sites } = sums;
  const months = [...movements, ...residue].flatMap(({ month }) => month ?? []);
  return {
    ...{ from: sums.from, to: sums.to, residueTo: sums.residueTo },
    total: cell(movements.find(isWhole), residue),
    byMaterial: materials.flatMap(({ code, name }) =>
      cellOf(sums, 'material', code).map((masses) => ({ material: code, name, ...masses })),
    ),
    bySite: sites.flatMap(({ id, code, name }) =>
      cellOf(sums, 'siteId', id).map((masses) => ({ code, name, ...masses })),
    ),
    byMonth: [...new Set(months)]
      .sort()
      .flatMap((month) => cellOf(sums, 'month', month).map((masses) => ({ month, ...masses }))),
    pulled: wentTo(sums.pulled),
    residue: wentTo(residue),
    refused: {
      loads: sums.refused.loads,
      unweighed: sums.refused.unweighed,
      massKg: kgOf(sums.refused.massG),
    },
    visits: sums.visits.reduce((total, { visits }) => total + visits, 0),
    byDepositor: sums.visits.toSorted(byName).map(({ depositor, visits }) => {
      const masses = movements.find((row) => row.depositor === depositor);
      return { depositor, visits, acceptedKg: kgOf(acceptedG(masses)) };
    }),
    stockAtStart: inStock(sums.from, sums.stockAtStart),
    stockAtEnd: inStock(sums.to, sums.stockAtEnd),
  };
}

const byName = (a: { depositor: string }, b: { depositor: string }): number =>
  a.depositor < b.depositor ? -1 : 1;

const isWhole = ({ siteId, material, month, depositor }: GroupedSums): boolean =>
  siteId === null && material === null && month === null && depositor === null;

/** None where there is neither a movement nor residue. */
function cellOf(
  { movements, residue }: DiversionSums,
  key: 'siteId' | 'material' | 'month',
  value: string,
): DivertedMasses[] {
  const moved = movements.find((row) => row[key] === value);
  const left = residue.filter((row) => row[key] === value);
  return moved || left.length > 0 ? [cell(moved, left)] : [];
}

function cell(moved: GroupedSums | undefined, residue: readonly ResidueShare[]): DivertedMasses {
  const landfilledG = massOf(residue.filter((row) => row.wentTo === DISPOSED));
  const accepted = acceptedG(moved);
  return {
    lots: moved?.lots ?? 0,
    acceptedKg: kgOf(accepted),
    weighedKg: kgOf(moved?.weighedG ?? 0),
    sharedKg: kgOf(moved?.sharedG ?? 0),
    estimatedKg: kgOf(moved?.estimatedG ?? 0),
    pulledKg: kgOf(moved?.pulledG ?? 0),
    residueKg: kgOf(massOf(residue)),
    landfilledKg: kgOf(landfilledG),
    divertedKg: kgOf(divertedG({ acceptedG: accepted, landfilledG })),
    elsewhereKg: kgOf(moved?.elsewhereG ?? 0),
  };
}

const acceptedG = (moved: GroupedSums | undefined): number =>
  moved ? sumG([moved.weighedG, moved.sharedG, moved.estimatedG]) : 0;

const massOf = (rows: readonly { readonly massG: number }[]): number => sumG(rows.map(({ massG }) => massG));

function wentTo(rows: readonly { readonly wentTo: string; readonly massG: number }[]): WentTo[] {
  const places = [...new Set(rows.map((row) => row.wentTo))].sort();
  return places.map((place) => ({
    wentTo: place,
    massKg: kgOf(massOf(rows.filter((row) => row.wentTo === place))),
  }));
}

function inStock(on: string, stock: StockSums): InStock {
  return {
    on,
    waitingKg: kgOf(stock.waitingG),
    onTheRoadKg: kgOf(stock.onTheRoadG),
    buildingKg: kgOf(stock.buildingG),
    activeKg: kgOf(stock.activeG),
    curingKg: kgOf(stock.curingG),
  };
}
