import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import { ImportIntakeService, type NewLot } from '../intake/import-intake.service.js';
import { type SiteFacts, SiteFactsService } from '../sites/site-facts.service.js';
import { type Keyed, keysOf, type ReadLine, readLines, settingFaults } from './import-lines.js';
import type { JudgedLine } from './import-report.js';
import { tableOf } from './import-table.js';
import type { NewImportDto } from './imports.dto.js';

/** A file whose every line was read and judged. */
export interface ReadFile {
  lines: JudgedLine[];
  /** Code of a site the settings name. */
  codeOf: (siteId: string) => string;
}

const LINES_A_TIME = 5_000;

@Injectable()
export class ImportReader {
  constructor(
    private readonly sites: SiteFactsService,
    private readonly intake: ImportIntakeService,
  ) {}

  /** Refuses (422) what is wrong with the file or the settings as a whole; a fault of one line is told with the line. */
  async read(actor: Actor, dto: NewImportDto, text: string): Promise<ReadFile> {
    const table = tableOf(text, dto.delimiter ?? ',');
    const faults = settingFaults(dto, table);
    if (faults.length > 0) throw new Problem('invalid', undefined, faults);
    const sites = await this.sitesOf(dto);
    const siteOf = (siteId: string): SiteFacts => {
      const site = sites.get(siteId);
      if (!site) throw new Error('a line of a site that the settings do not name');
      return site;
    };
    const lines = readLines(table, dto, (siteId) => siteOf(siteId).timeZone);
    requireLines(dto.leaveOut, lines);
    return { lines: await this.judge(actor, dto, lines), codeOf: (siteId) => siteOf(siteId).code };
  }

  private async sitesOf({ sites }: NewImportDto): Promise<Map<string, SiteFacts>> {
    const found = new Map<string, SiteFacts>();
    for (const [index, { siteId }] of sites.entries()) {
      const site = await this.sites.site(siteId).catch((error: unknown) => {
        const absent = error instanceof Problem && error.code === 'not-found';
        throw absent ? invalid(`/sites/${index}/siteId`, 'is no site of the programme') : error;
      });
      found.set(siteId, site);
    }
    return found;
  }

  private async judge(
    actor: Actor,
    { leaveOut }: NewImportDto,
    lines: readonly ReadLine[],
  ): Promise<JudgedLine[]> {
    const left = new Set(leaveOut);
    const keys = keysOf(lines);
    const taken = lines.filter(({ line, entry }) => entry && !left.has(line));
    const judged = new Map<number, NewLot | Problem>();
    for (let from = 0; from < taken.length; from += LINES_A_TIME) {
      const some = taken.slice(from, from + LINES_A_TIME);
      const outcomes = await this.intake.judge(
        actor,
        some.map(({ entry }) => entry),
      );
      some.forEach(({ line }, index) => {
        const outcome = outcomes[index];
        if (outcome) judged.set(line, withRepetition(outcome, keys.get(line)));
      });
    }
    return lines.map((line) => ({
      ...line,
      judged: judged.get(line.line) ?? null,
      keyed: keys.get(line.line) ?? null,
      leftOut: left.has(line.line),
    }));
  }
}

/** Two equal lines may be two lots or one that was typed twice: nobody can tell from the file, so both are kept, and told. */
function withRepetition(lot: NewLot | Problem, keyed: Keyed | undefined): NewLot | Problem {
  if (lot instanceof Problem || !keyed || keyed.sameAs === null) return lot;
  const text = `It says the same as line ${keyed.sameAs} of the file, and is kept as another lot.`;
  return { ...lot, warnings: [...lot.warnings, { code: 'repeated-line', text }] };
}

function requireLines(leaveOut: readonly number[] | undefined, lines: readonly ReadLine[]): void {
  const numbers = new Set(lines.map(({ line }) => line));
  leaveOut?.forEach((line, index) => {
    if (!numbers.has(line)) throw invalid(`/leaveOut/${index}`, 'is no line of the file that holds anything');
  });
}
