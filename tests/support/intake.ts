import { v7 } from 'uuid';
import { Database } from '#libs/database';
import type { Answer, TestApi } from './api.js';
import type { Programme } from './programme.js';

/** A lot of 29.1 lb net in hub 1's bucket, unless said otherwise. */
export const lotBody = (programme: Programme, changes: object = {}) => ({
  id: v7(),
  siteId: programme.hub1.id,
  occurredAt: new Date(Date.now() - 3_600_000).toISOString(),
  material: 'food-scraps',
  depositor: 'household',
  weight: { gross: { value: 31.2, unit: 'lb' }, containerId: programme.containers.bucket.id },
  ...changes,
});

const TABLES = ['drop_off', 'drop_off_revision', 'drop_off_reject', 'refusal', 'shift', 'audit_event'];

/** How many rows everything that intake writes has: nothing is half-written where these stay as they are. */
export async function intakeRows({ app }: TestApi): Promise<Record<string, number>> {
  const counts = TABLES.map((table) => `(SELECT count(*) FROM ${table}) AS ${table}`);
  const [row] = await app.get(Database).sql.query<Record<string, number>>(`SELECT ${counts.join(', ')}`);
  return row!;
}

export const pointersOf = ({ body }: Pick<Answer, 'body'>): string[] =>
  body.errors.map((fault: { pointer: string }) => fault.pointer).sort();

export const codesOf = ({ body }: Pick<Answer, 'body'>): string[] =>
  body.warnings.map((warning: { code: string }) => warning.code).sort();
