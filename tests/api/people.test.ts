import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Database } from '#libs/database';
import { FIRST, startApi, type TestApi } from '../support/api.js';

describe('people and sessions', () => {
  let api: TestApi;
  beforeAll(async () => {
    api = await startApi();
  });
  afterAll(() => api.stop());

  it('lets nobody in without a session', async () => {
    const answer = await api.call('GET', '/people');
    expect(answer.status).toBe(401);
    expect(answer.headers['content-type']).toContain('application/problem+json');
    expect(answer.body.type).toBe('urn:heapwright:problem:not-signed-in');
  });

  it('refuses a wrong password and an unknown e-mail with the same words', async () => {
    const wrong = await api.call('POST', '/sessions', {
      body: { ...FIRST, password: 'not this one at all' },
    });
    const unknown = await api.call('POST', '/sessions', {
      body: { ...FIRST, email: 'nobody@larkhollow.example' },
    });
    expect(wrong.status).toBe(401);
    expect(unknown.body).toEqual(wrong.body);
  });

  it('takes the cookie that signing in set', async () => {
    const signedIn = await api.call('POST', '/sessions', { body: FIRST });
    const cookie = String(signedIn.headers['set-cookie']);
    expect(cookie).toMatch(/HttpOnly/);
    expect(cookie).toMatch(/SameSite=Strict/);
    const me = await api.call('GET', '/people/me', { headers: { cookie: cookie.split(';')[0]! } });
    expect(me.body.email).toBe(FIRST.email);
  });

  it('ends a session on signing out', async () => {
    const token = await api.signIn(FIRST.email, FIRST.password);
    expect((await api.call('DELETE', '/sessions/current', { as: token })).status).toBe(204);
    expect((await api.call('GET', '/people/me', { as: token })).status).toBe(401);
  });

  it('adds, changes and disables a person, against the version that was read', async () => {
    const body = {
      email: 'Wren@Larkhollow.example',
      displayName: 'Wren Alder',
      password: 'ten letters or more',
    };
    const added = await api.call('POST', '/people', {
      as: api.coordinator,
      body: { ...body, grants: [{ role: 'coordinator' }] },
    });
    expect(added.status).toBe(201);
    expect(added.body).toMatchObject({ email: 'wren@larkhollow.example', version: 1, disabled: false });
    const wren = await api.signIn('wren@larkhollow.example', body.password);

    const path = `/people/${added.body.id as string}`;
    const unconditional = await api.call('PATCH', path, { as: api.coordinator, body: { disabled: true } });
    expect(unconditional.status).toBe(428);
    const stale = await api.call('PATCH', path, {
      as: api.coordinator,
      body: { disabled: true },
      headers: { 'if-match': '"7"' },
    });
    expect(stale.status).toBe(412);
    const changed = await api.call('PATCH', path, {
      as: api.coordinator,
      body: { disabled: true },
      headers: { 'if-match': '"1"' },
    });
    expect(changed.status).toBe(200);
    expect(changed.headers.etag).toBe('"2"');
    expect((await api.call('GET', '/people/me', { as: wren })).status).toBe(401);
  });

  it('tells where a body is wrong', async () => {
    const answer = await api.call('POST', '/people', {
      as: api.coordinator,
      body: {
        email: 'x',
        displayName: '',
        password: 'short',
        grants: [{ role: 'king', crown: true }],
        hat: 1,
      },
    });
    expect(answer.status).toBe(422);
    const pointers = answer.body.errors.map((fault: { pointer: string }) => fault.pointer).sort();
    expect(pointers).toEqual([
      '/displayName',
      '/email',
      '/grants/0/crown',
      '/grants/0/role',
      '/hat',
      '/password',
    ]);
  });

  it.each(['          ', '\t\n', '\u00a0\u2003'])(
    'takes no name of spaces alone: %j',
    async (displayName) => {
      const person = { email: 'blank@larkhollow.example', password: 'ten letters or more', grants: [] };
      const body = { ...person, displayName };
      const answer = await api.call('POST', '/people', { as: api.coordinator, body });
      expect(answer.status).toBe(422);
      expect(answer.body.errors).toEqual([{ pointer: '/displayName', detail: 'must hold more than spaces' }]);
      const empty = { ...body, displayName: '' };
      const short = await api.call('POST', '/people', { as: api.coordinator, body: empty });
      expect(short.body.errors[0].detail).toBe('must be 1 to 120 characters long');
      const { components } = (await api.call('GET', '/openapi.json')).body;
      expect(components.schemas.NewPersonDto.properties.displayName.pattern).toBe('\\S');
    },
  );

  it('refuses a second person of the same e-mail', async () => {
    const answer = await api.call('POST', '/people', {
      as: api.coordinator,
      body: { email: FIRST.email, displayName: 'Again', password: 'ten letters or more', grants: [] },
    });
    expect(answer.status).toBe(409);
    expect(answer.body.type).toBe('urn:heapwright:problem:taken');
  });

  describe('who coordinates', () => {
    const patch = (id: string, body: object, as = api.coordinator) =>
      api
        .call('GET', `/people/${id}`, { as })
        .then(({ headers }) =>
          api.call('PATCH', `/people/${id}`, { as, body, headers: { 'if-match': String(headers.etag) } }),
        );
    const first = async () =>
      (await api.call('GET', '/people/me', { as: api.coordinator })).body.id as string;
    /** Lets nobody finish a write before so many are under way at once. */
    const heldUp = async <T>(writes: number, work: () => Promise<T>): Promise<T> => {
      const client = new pg.Client({ connectionString: api.databaseUrl });
      await client.connect();
      try {
        await client.query('BEGIN');
        await client.query('LOCK TABLE audit_event IN SHARE MODE');
        const result = work();
        const waiting = `SELECT count(DISTINCT pid)::int AS count FROM pg_locks JOIN pg_database d ON d.oid = database
          WHERE NOT granted AND d.datname = current_database()`;
        await expect
          .poll(async () => (await client.query(waiting)).rows[0].count, { timeout: 5_000 })
          .toBe(writes);
        await client.query('COMMIT');
        return await result;
      } finally {
        await client.end();
      }
    };
    const second = async (name: string) => {
      const person = { email: `${name}@larkhollow.example`, password: 'ten letters or more' };
      const grants = [{ role: 'coordinator' }];
      const body = { ...person, displayName: name, grants };
      const { id } = (await api.call('POST', '/people', { as: api.coordinator, body })).body as {
        id: string;
      };
      return { id, token: await api.signIn(person.email, person.password) };
    };

    it('is somebody: the last one who is enabled does not stop, nor is stopped', async () => {
      const id = await first();
      const refused = await patch(id, { grants: [] });
      expect(refused.status).toBe(422);
      expect(refused.body.errors).toEqual([
        { pointer: '/grants', detail: 'nobody would be left who is a coordinator' },
      ]);
      const { id: other, token } = await second('teasel');
      expect((await patch(id, { grants: [] })).status).toBe(200);
      expect((await api.call('GET', '/people', { as: api.coordinator })).status).toBe(403);
      expect((await patch(other, { grants: [] }, token)).status).toBe(422);
      expect((await patch(id, { grants: [{ role: 'coordinator' }] }, token)).status).toBe(200);
      expect((await patch(other, { disabled: true })).status).toBe(200);
    });

    it('is somebody still when two stop each other at one moment', async () => {
      const [id, other] = [await first(), await second('sorrel')];
      const answers = await heldUp(2, () =>
        Promise.all([patch(other.id, { disabled: true }), patch(id, { disabled: true }, other.token)]),
      );
      expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
      const { sql } = api.app.get(Database);
      const left = await sql.query<{ id: string }>(
        `SELECT p.id FROM person p JOIN role_grant g ON g.person_id = p.id
         WHERE g.role = 'coordinator' AND p.disabled_at IS NULL`,
      );
      expect(left).toHaveLength(1);
      await sql.query('UPDATE person SET disabled_at = NULL WHERE id = $1', [id]);
      api.coordinator = await api.signIn(FIRST.email, FIRST.password);
    });
  });

  it('keeps a password as argon2id with the parameters that are recommended', async () => {
    const { sql } = api.app.get(Database);
    const [row] = await sql.query<{ kept: string }>('SELECT password_hash AS kept FROM person LIMIT 1');
    // OWASP Password Storage Cheat Sheet, from memory: 19 MiB, two passes, one lane.
    expect(row!.kept).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
  });

  it('lets nobody guess a password with a session of somebody else', async () => {
    const guess = () =>
      api.call('POST', '/sessions/password', {
        as: api.coordinator,
        body: { currentPassword: 'a guess', newPassword: 'a long new password' },
        headers: { 'x-forwarded-for': '10.9.8.7' },
      });
    for (let tries = 0; tries < 30; tries += 1) expect((await guess()).status).toBe(403);
    const limited = await guess();
    expect([limited.status, limited.body.type]).toEqual([429, 'urn:heapwright:problem:too-many']);
    expect(Number(limited.headers['retry-after'])).toBeGreaterThan(0);
  });
});
