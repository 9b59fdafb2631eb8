import { createHash } from 'node:crypto';
import { v7 } from 'uuid';
import { Database } from '#libs/database';
import type { TestApi } from './api.js';
import { made, makePersona, type Programme } from './programme.js';

export const sqlOf = (api: TestApi) => api.app.get(Database).sql;

interface LotFacts {
  siteId: string;
  jurisdictionId: string;
  personId: string;
  massG: number;
  material?: string;
  basis?: 'scale' | 'volume';
  occurredAt?: string;
}

/** A drop-off put straight into the database, as accepted as it was weighed. */
export async function putLot(api: TestApi, facts: LotFacts): Promise<string> {
  const { siteId, massG, material = 'food-scraps', basis = 'scale' } = facts;
  const id = v7();
  const sql = sqlOf(api);
  await sql.query(`INSERT INTO drop_off (id, site_id, body_sha256) VALUES ($1, $2, '\\x00')`, [id, siteId]);
  await sql.query(
    `INSERT INTO drop_off_revision (drop_off_id, revision, site_id, occurred_at, material_code, jurisdiction_id,
       depositor, basis, net_g, rejected_g, accepted_g, volume_ml, density_kg_m3, density_source, entered, warnings,
       recorded_by)
     VALUES ($1, 1, $2, $3, $4, $5, 'household', $6, $7, 0, $7, $8, $9, $10, '{}', '[]', $11)`,
    [
      id,
      siteId,
      facts.occurredAt ?? '2026-03-02T16:00:00Z',
      material,
      facts.jurisdictionId,
      basis,
      massG,
      ...(basis === 'volume' ? [massG * 2, 500, 'a bucket of our own, weighed'] : [null, null, null]),
      facts.personId,
    ],
  );
  return id;
}

/** Lots at hub 1 of the programme. */
export const lotAtHub1 = (
  api: TestApi,
  programme: Programme,
  massG: number,
  facts: Partial<LotFacts> = {},
): Promise<string> =>
  putLot(api, {
    siteId: programme.hub1.id,
    jurisdictionId: programme.jurisdictions.larkHollow.id,
    personId: programme.people.volunteer.id,
    massG,
    ...facts,
  });

export const BEGUN_AT = '2026-03-03T15:00:00Z';

/** A yard whose crew works at hub 1 as well, with a bay for every batch of a test file. */
export async function makeYard(api: TestApi, { hub1, jurisdictions }: Programme) {
  const yard = await made<{ id: string; code: string }>(api, '/sites', {
    ...{
      code: 'HS',
      name: 'Heron Street yard',
      timeZone: 'America/Denver',
      takesDropOffs: false,
      runsBatches: true,
    },
    jurisdictionId: jurisdictions.larkHollow.id,
    bays: Array.from({ length: 100 }, (_, index) => ({ code: `H${index + 1}` })),
  });
  const grantsOf = (role: string) => [yard, hub1].map(({ id }) => ({ role, siteId: id }));
  const manager = await makePersona(api, 'Petra Hollis', grantsOf('manager'));
  const operator = await makePersona(api, 'Bram Tolley', grantsOf('operator'));
  let bays = 0;
  const yardWork = {
    ...{ yard, manager, operator },
    /** A bay that nothing has lain in. */
    freeBay: () => `H${(bays += 1)}`,
    /** A batch, begun on 3 March 2026. */
    begin: (facts: object = {}) => {
      const body = { siteId: yard.id, method: 'turned-windrow', occurredAt: BEGUN_AT };
      return made(api, '/batches', { ...body, bay: yardWork.freeBay(), ...facts }, manager.token);
    },
    /** Takes a batch through the stages named. */
    async enter(batchId: string, ...stages: string[]): Promise<void> {
      for (const to of stages) await made(api, `/batches/${batchId}/stage`, { to }, manager.token);
    },
  };
  return yardWork;
}

export type Yard = Awaited<ReturnType<typeof makeYard>>;

/** A screening put straight into the database. The batch must be curing. */
export async function putScreening(
  api: TestApi,
  personId: string,
  batchId: string,
  { compostG = 0, oversG = 0, residueG = 0 },
): Promise<void> {
  await sqlOf(api).query(
    `INSERT INTO screening (id, batch_id, occurred_at, compost_g, overs_g, residue_g, residue_went_to, entered,
       body_sha256, recorded_by) VALUES ($1, $2, now(), $3, $4, $5, $6, '{}', '\\x00', $7)`,
    [v7(), batchId, compostG, oversG, residueG, residueG > 0 ? 'landfill' : null, personId],
  );
}

/** A signature put straight into the database, under a document that says next to nothing. */
export async function putRelease(api: TestApi, personId: string, batchId: string): Promise<void> {
  const document = JSON.stringify({ batchId });
  const seal = createHash('sha256').update(document).digest('hex');
  const sql = sqlOf(api);
  await sql.query(
    `INSERT INTO sealed_document (seal, kind, subject_id, version, document, sealed_by)
     VALUES ($1, 'batch-record', $2, 1, $3, $4)`,
    [seal, batchId, document, personId],
  );
  await sql.query(
    `INSERT INTO release (batch_id, signed_by, signed_name, signed_at, statement, gates, seal)
     VALUES ($1, $2, 'Maud Ferrier', now(), 'looked at and found good', '[]', $3)`,
    [batchId, personId, seal],
  );
  await sql.query(
    `INSERT INTO batch_stage (batch_id, stage, entered_at, recorded_by) VALUES ($1, 'released', now(), $2)`,
    [batchId, personId],
  );
}

/** A distribution put straight into the database, out of a batch that must be released. */
export async function putDistribution(
  api: TestApi,
  personId: string,
  batchId: string,
): Promise<{ id: string }> {
  const id = v7();
  await sqlOf(api).query(
    `INSERT INTO distribution (id, batch_id, occurred_at, recipient, use, mass_g, basis, entered, body_sha256, recorded_by)
     VALUES ($1, $2, now(), 'school', 'lawns', 1000, 'scale', '{}', '\\x00', $3)`,
    [id, batchId, personId],
  );
  return { id };
}
