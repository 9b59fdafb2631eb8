import { kgOf, sumG } from '#libs/quantities';
import { Problem } from '../http/problems/catalogue.js';
import type { NewLot } from '../intake/import-intake.service.js';
import type { Keyed, ReadLine } from './import-lines.js';
import type { ImportCountsDto, ImportLineDto, LineOutcome } from './imports.dto.js';

/** A line of the file with what is to become of it. */
export interface JudgedLine extends ReadLine {
  /** What intake makes of the entry; null where there is none, or it is left out. */
  judged: NewLot | Problem | null;
  keyed: Keyed | null;
  leftOut: boolean;
}

export interface NewLine {
  lot: NewLot;
  importKey: Buffer;
}

/** The lines that go in: readable, accepted, and not kept from an earlier import. */
export function newLines(lines: readonly JudgedLine[], known: ReadonlySet<string>): NewLine[] {
  return lines.flatMap(({ judged, keyed }) => {
    if (!judged || judged instanceof Problem || !keyed || known.has(keyed.key.toString('hex'))) return [];
    return [{ lot: judged, importKey: keyed.key }];
  });
}

export function reportLines(
  lines: readonly JudgedLine[],
  known: ReadonlySet<string>,
  codeOf: (siteId: string) => string,
): ImportLineDto[] {
  return lines.map((line) => {
    const { judged, entry } = line;
    const lot = judged instanceof Problem ? null : judged;
    return {
      line: line.line,
      outcome: outcomeOf(line, known),
      site: entry ? codeOf(entry.siteId) : null,
      occurredAt: entry?.occurredAt ?? null,
      netKg: lot ? kgOf(lot.netG) : null,
      faults: [...line.faults, ...(judged instanceof Problem ? faultsOf(judged) : [])],
      warnings: lot?.warnings.map(({ text }) => text) ?? [],
    };
  });
}

function outcomeOf({ leftOut, judged, keyed }: JudgedLine, known: ReadonlySet<string>): LineOutcome {
  if (leftOut) return 'left-out';
  if (!judged || judged instanceof Problem || !keyed) return 'refused';
  return known.has(keyed.key.toString('hex')) ? 'known' : 'new';
}

/** "material is not on the list of materials": the pointer says which field is meant. */
function faultsOf({ message, errors }: Problem): string[] {
  return errors?.map(({ pointer, detail }) => `${pointer.slice(1)} ${detail}`.trim()) ?? [message];
}

export function countsOf(lines: readonly ImportLineDto[], fresh: readonly NewLine[]): ImportCountsDto {
  const count = (outcome: LineOutcome) => lines.filter((line) => line.outcome === outcome).length;
  return {
    lines: lines.length,
    new: count('new'),
    known: count('known'),
    refused: count('refused'),
    leftOut: count('left-out'),
    warned: lines.filter(({ warnings }) => warnings.length > 0).length,
    newKg: kgOf(sumG(fresh.map(({ lot }) => lot.netG))),
  };
}
