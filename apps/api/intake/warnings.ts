import { notesOnIntake } from '#libs/materials';
import { isWholeDivisions, kgOf, type Mass, massToG } from '#libs/quantities';
import { localDay } from '../http/dto/time.js';
import type { IntakeFacts } from '../sites/site-facts.service.js';
import type { LotFacts, Warning } from './lot.js';

export type Watched = Omit<LotFacts, 'warnings' | 'rejects'>;

/** How the entry came in. */
export interface Arrival {
  /** When it came to be recorded; null where that says nothing. */
  recordedMs: number | null;
  /** Its shift was closed before it came. */
  shiftClosed: boolean;
  /** It happened before its shift was opened. */
  beforeShift: boolean;
}

// Above these an entry is more often a slip of the keys than a load. Our own suggestion: nothing is published. A weighed
// drop-off of households in the Town of Cary's open data is 6.28 lb on the mean, and a whole site's haul 652 lb.
const HOUSEHOLD_MOST: Mass = { value: 40, unit: 'lb' };
const LOT_MOST: Mass = { value: 2500, unit: 'lb' };

// Common practice, not a standard: bulk density varies by half and a bucket is heaped or half full, so only what lies
// far outside is told.
const LIGHT_BELOW = 1 / 10;
const HEAVY_ABOVE = 2;
const WATER_KG_M3 = 1000;

const DAY_MS = 86_400_000;
const LATE_DAYS = 7;

/** All that is worth a second look in a lot. Nothing here refuses it. */
export function warningsOf(lot: Watched, facts: IntakeFacts, arrival: Arrival): Warning[] {
  return [
    ...amountWarnings(lot),
    ...divisionWarnings(lot, facts.instrument),
    ...containerWarnings(lot, facts),
    ...permitWarnings(lot, facts),
    ...materialWarnings(facts),
    ...timeWarnings(lot, facts, arrival),
    ...retirementWarnings(lot, facts),
  ];
}

const kg = (massG: number) => `${kgOf(massG)} kg`;

function amountWarnings({ netG, depositor }: Watched): Warning[] {
  if (netG === 0) return [{ code: 'zero-weight', text: 'The lot weighs nothing.' }];
  if (depositor === 'household' && netG > massToG(HOUSEHOLD_MOST)) {
    return [
      { code: 'household-large', text: `${kg(netG)} is more than a household usually brings (40 lb).` },
    ];
  }
  if (netG > massToG(LOT_MOST)) {
    return [{ code: 'lot-large', text: `${kg(netG)} is more than a site usually hauls at once (2,500 lb).` }];
  }
  return [];
}

function divisionWarnings({ entered }: Watched, instrument: IntakeFacts['instrument']): Warning[] {
  const division = instrument?.division;
  if (!division || !entered.weight) return [];
  const { gross, tare, net } = entered.weight;
  return Object.entries({ gross, tare, net }).flatMap(([field, mass]): Warning[] => {
    if (!mass || isWholeDivisions(mass, division)) return [];
    const text = `${mass.value} ${mass.unit} is no multiple of the scale's division, ${division.value} ${division.unit}.`;
    return [{ code: 'scale-division', text, pointer: `/weight/${field}` }];
  });
}

function containerWarnings({ netG, basis }: Watched, { container, material }: IntakeFacts): Warning[] {
  if (!container?.volumeMl || netG === 0 || basis !== 'scale') return [];
  const litres = container.volumeMl / 1000;
  const density = material?.bulkDensityKgM3 ?? null;
  const expectedG = density === null ? null : litres * density;
  const pointer = '/weight/gross';
  if (expectedG !== null && netG < expectedG * LIGHT_BELOW) {
    const text = `${kg(netG)} is less than a tenth of what fills container ${container.code}, about ${kg(Math.round(expectedG))}.`;
    return [{ code: 'container-light', text, pointer }];
  }
  if (expectedG !== null && netG > expectedG * HEAVY_ABOVE) {
    const text = `${kg(netG)} is more than twice what fills container ${container.code}, about ${kg(Math.round(expectedG))}.`;
    return [{ code: 'container-heavy', text, pointer }];
  }
  if ((density ?? 0) < WATER_KG_M3 && netG > litres * WATER_KG_M3) {
    const text = `${kg(netG)} is more than container ${container.code} would hold of water.`;
    return [{ code: 'container-heavy', text, pointer }];
  }
  return [];
}

function permitWarnings({ material }: Watched, { permit }: IntakeFacts): Warning[] {
  if (!permit) {
    return [
      { code: 'no-permit', text: 'No permit of the site is on record for that day.', pointer: '/occurredAt' },
    ];
  }
  if (permit.allowsMaterial) return [];
  const text = `Permit ${permit.reference} does not list ${material}.`;
  return [{ code: 'material-not-on-permit', text, pointer: '/material' }];
}

function materialWarnings({ material, permit }: IntakeFacts): Warning[] {
  const notes = notesOnIntake(material?.traits ?? [], permit);
  return notes.map((note) => ({ ...note, pointer: '/material' }));
}

function timeWarnings(
  { occurredAt }: Watched,
  { site }: IntakeFacts,
  { recordedMs, shiftClosed, beforeShift }: Arrival,
): Warning[] {
  const pointer = '/occurredAt';
  const warnings: Warning[] = [];
  if (site.openedOn && localDay(occurredAt.getTime(), site.timeZone) < site.openedOn) {
    const text = `The site opened on ${site.openedOn}, later than that.`;
    warnings.push({ code: 'before-site-opened', text, pointer });
  }
  const lateDays = recordedMs === null ? 0 : (recordedMs - occurredAt.getTime()) / DAY_MS;
  if (lateDays > LATE_DAYS) {
    warnings.push({
      code: 'recorded-late',
      text: `It is recorded ${Math.floor(lateDays)} days after.`,
      pointer,
    });
  }
  if (beforeShift) {
    warnings.push({ code: 'before-shift', text: 'It is from before its shift was opened.', pointer });
  }
  if (shiftClosed) {
    const text = 'The shift was closed, and its lots counted, before this one was recorded.';
    warnings.push({ code: 'shift-counted', text, pointer: '/shiftId' });
  }
  return warnings;
}

function retirementWarnings(
  { entered }: Watched,
  { material, container, instrument }: IntakeFacts,
): Warning[] {
  const retired = (what: string, pointer: string): Warning => ({
    code: 'retired',
    text: `The ${what} is retired.`,
    pointer,
  });
  return [
    ...(material?.retired ? [retired('material', '/material')] : []),
    ...(container?.retired
      ? [retired('container', `/${entered.weight ? 'weight' : 'containers'}/containerId`)]
      : []),
    ...(instrument?.retired ? [retired('scale', '/instrumentId')] : []),
  ];
}
