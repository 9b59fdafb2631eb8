import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { ProcessRule } from '#libs/process';
import type { RuleEntered } from './process-rules.dto.js';

/** All of a rule but its name: what is kept of one version. */
export type RuleDefinition = Omit<ProcessRule, 'code' | 'version'>;

interface RuleRow {
  code: string;
  version: number;
  definition: RuleDefinition;
  entered: RuleEntered;
  recordedAt: Date;
}

/** One version of a rule of the programme's own. */
export interface LocalRule {
  rule: ProcessRule;
  entered: RuleEntered;
  recordedAt: Date;
}

const COLUMNS = 'code, version, definition, entered, recorded_at AS "recordedAt"';

/** The last version that was there at a time or, of a rule that came later, its first. */
const AS_OF = `
  SELECT DISTINCT ON (code) ${COLUMNS} FROM process_rule
  WHERE $1::text[] IS NULL OR code = ANY($1)
  ORDER BY code, recorded_at <= $2 DESC, CASE WHEN recorded_at <= $2 THEN -version ELSE version END`;

const VERSION = `SELECT ${COLUMNS} FROM process_rule WHERE code = $1 AND version = $2`;

const INSERT = `
  INSERT INTO process_rule (code, version, definition, entered, recorded_by) VALUES ($1, $2, $3, $4, $5)
  ON CONFLICT (code, version) DO NOTHING RETURNING ${COLUMNS}`;

@Injectable()
export class ProcessRulesRecords {
  constructor(private readonly database: Database) {}

  /** In order of their codes; `codes` null means all. */
  async asOf(
    codes: readonly string[] | null,
    at: Date | null,
    sql: Sql = this.database.sql,
  ): Promise<LocalRule[]> {
    const rows = await sql.query<RuleRow>(AS_OF, [codes, at ?? 'infinity'], 'process-rules-as-of');
    return rows.map(localRule);
  }

  async version(code: string, version: number, sql: Sql = this.database.sql): Promise<LocalRule | null> {
    const [row] = await sql.query<RuleRow>(VERSION, [code, version], 'process-rule-version');
    return row ? localRule(row) : null;
  }

  /** Null when that version is there already. */
  async insert(
    sql: Sql,
    { code, version, ...definition }: ProcessRule,
    entered: RuleEntered,
    personId: string,
  ): Promise<LocalRule | null> {
    const values = [code, version, JSON.stringify(definition), JSON.stringify(entered), personId];
    const [row] = await sql.query<RuleRow>(INSERT, values);
    return row ? localRule(row) : null;
  }
}

function localRule({ code, version, definition, entered, recordedAt }: RuleRow): LocalRule {
  return { rule: { ...definition, code, version }, entered, recordedAt };
}
