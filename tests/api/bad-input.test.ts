import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { INSTANT } from '../../apps/api/http/dto/fields.js';
import { startApi, type TestApi } from '../support/api.js';
import { Contract } from '../support/contract.js';
import { goodCalls } from '../support/good-bodies.js';
import type { GoodCall } from '../support/good-calls.js';
import { makeGoodWorld } from '../support/good-world.js';
import { faultsOf, nastyQueriesOf } from '../support/nasty.js';
import { amiss, isTold, send } from '../support/refused.js';
import { routesOf } from '../support/routes.js';
import { RowWatch } from '../support/rows.js';

/** Each item of it is judged for itself, and refused in an answer of 200. */
const BULK = 'POST /drop-offs/bulk';
const BULK_MOST = 500;

describe('bad input, on every route', () => {
  let api: TestApi;
  let contract: Contract;
  let calls: GoodCall[];
  let rows: RowWatch;
  beforeAll(async () => {
    api = await startApi();
    contract = await Contract.of(api);
    calls = goodCalls(await makeGoodWorld(api));
    rows = await RowWatch.over(api.databaseUrl);
  });
  afterAll(async () => {
    await rows.stop();
    await api.stop();
  });

  /** Goes over the calls, and tells of everything that is amiss at once; what was written is looked up call by call. */
  async function walk(work: (call: GoodCall, tell: (what: string) => void) => Promise<void>): Promise<void> {
    const told: string[] = [];
    let before = await rows.state();
    for (const call of calls) {
      await work(call, (what) => told.push(`${call.route} ${what}`));
      const after = await rows.state();
      for (const [table, state] of Object.entries(after)) {
        if (before[table] !== state) told.push(`${call.route} wrote to ${table}`);
      }
      before = after;
    }
    expect(told.join('\n')).toBe('');
  }

  it('has a good call for every route, and every route is in the document', () => {
    const routes = routesOf(api.app).map(({ method, path }) => `${method} ${path}`);
    expect([...new Set(calls.map(({ route }) => route))].sort()).toEqual(routes.sort());
    expect(contract.routes().sort()).toEqual(routes);
  });

  it('refuses every field with everything that it cannot be, and one that nobody knows', async () => {
    let tried = 0;
    await walk(async (call, tell) => {
      const schema = contract.body(call.route);
      if (!schema || call.route === BULK) return;
      for (const { pointer, nasty, text } of faultsOf(contract, schema, call.body!)) {
        if (call.judgedByItem?.includes(pointer) && INSTANT.test(nasty.slice(1, -1))) continue;
        const answer = await send(api, call, { text });
        const elsewhere = call.toldElsewhere?.some((field) => pointer.startsWith(field)) ?? false;
        const told = elsewhere || isTold(pointer, answer);
        const wrong = amiss(answer, [422]) ?? (told ? null : `tells of ${answer.text}`);
        if (wrong) tell(`with ${nasty.slice(0, 60)} at ${pointer}: ${wrong}`);
        tried += 1;
      }
    });
    expect(tried).toBeGreaterThan(2_000);
  }, 180_000);

  it('refuses every parameter of a query with everything that it cannot be, and one that nobody knows', async () => {
    await walk(async (call, tell) => {
      const good = new URLSearchParams(call.query);
      const tryQuery = async (name: string, text: string) => {
        const others = new URLSearchParams([...good].filter(([key]) => key !== name)).toString();
        const answer = await send(api, call, { query: `${others}&${name}=${text}` });
        const wrong = amiss(answer, [422]);
        if (wrong) tell(`with ?${name}=${text.slice(0, 60)}: ${wrong}`);
      };
      for (const { name, schema } of contract.query(call.route)) {
        for (const text of nastyQueriesOf(schema, name)) await tryQuery(name, text);
        await tryQuery(name, `1&${name}=2`);
        await tryQuery(`${name}[a]`, '1');
      }
      await tryQuery('colour', 'green');
      await tryQuery('__proto__', '1');
    });
  });

  it('refuses ids of nothing', async () => {
    const ids = [
      'seven',
      v7(),
      '00000000-0000-0000-0000-000000000000',
      '%00',
      '%ff',
      'x'.repeat(300),
      '%2e%2e%2f',
    ];
    await walk(async (call, tell) => {
      for (const name of Object.keys(call.params)) {
        for (const id of [...ids, `${call.params[name]!}x`]) {
          const answer = await send(api, call, { params: { [name]: id } });
          // 403 where a site that is none and one of others are told alike.
          const wrong = amiss(answer, [400, 403, 404]);
          if (wrong) tell(`with ${name} ${id}: ${wrong}`);
        }
      }
    });
  });

  it('refuses what is no JSON, or no object of it', async () => {
    await walk(async (call, tell) => {
      const text = JSON.stringify(call.body ?? {});
      const latin = Buffer.from(`{"colour":"gr\u00fcn",${text.slice(1)}`, 'latin1');
      const cases: [string, string | Buffer, number[], string?][] = [
        ...['NaN', '{', '{"a":1e}', `${text}}`, "{'a':1}", '\u0000', '\ufeff', '{"a":NaN}'].map(
          (bad): [string, string, number[]] => [bad, bad, [400]],
        ),
        ['nothing', '', call.body ? [400, 422] : [200, 201, 204]],
        ...['[]', '[{}]', '"text"', '7', 'null', 'true', '{"value":1e999}'].map(
          (bad): [string, string, number[]] => [bad, bad, [422]],
        ),
        ['__proto__', `{"__proto__":{"siteId":1},${text.slice(1)}`, [400]],
        ['constructor', `{"constructor":{"prototype":1},${text.slice(1)}`, [400, 422]],
        ['a bare latin-1', latin, [400]],
        [
          'half of a character',
          Buffer.concat([Buffer.from('{"colour":"'), Buffer.from([0xf0, 0x9f]), Buffer.from('"}')]),
          [400],
        ],
        ...[
          'text/plain',
          'application/x-www-form-urlencoded',
          'multipart/form-data; boundary=x',
          'application/xml',
          'json',
        ].map((type): [string, string, number[], string] => [type, text, [415], type]),
        ['UTF-16', Buffer.from(text, 'utf16le'), [400], 'application/json; charset=utf-16'],
        ['more than a megabyte', `{"colour":"${'x'.repeat(17_000_000)}"}`, [413]],
      ];
      if (call.route.startsWith('GET')) return;
      for (const [name, bad, allowed, type] of cases) {
        if (name === 'nothing' && !call.body) continue;
        const answer = await send(api, call, { text: bad, ...(type ? { type } : {}) });
        const wrong = amiss(answer, allowed);
        if (wrong) tell(`with ${name.slice(0, 40)}: ${wrong}`);
      }
    });
  });

  it('refuses each bad lot of many for itself, and keeps none of them', async () => {
    const single = calls.find(({ route }) => route === 'POST /drop-offs')!;
    const bulk = calls.find(({ route }) => route === BULK)!;
    const faults = [...faultsOf(contract, contract.body(single.route)!, single.body!)].filter(
      ({ text }) => text.length < 100_000,
    );
    const before = await rows.state();
    for (let from = 0; from < faults.length; from += BULK_MOST) {
      const some = faults.slice(from, from + BULK_MOST);
      const answer = await send(api, bulk, { text: `{"items":[${some.map(({ text }) => text).join(',')}]}` });
      expect(answer.status, answer.text.slice(0, 400)).toBe(200);
      const taken = some.filter((_, index) => answer.body.items[index].status !== 422);
      expect(taken.map(({ pointer, nasty }) => `${pointer} ${nasty}`)).toEqual([]);
    }
    expect(await rows.state()).toEqual(before);
  });

  it('takes every good call as it stands', async () => {
    const refused: string[] = [];
    for (const call of calls) {
      const { status, text, body } = await send(api, call);
      const items = call.route === BULK ? (body.items as { status: number }[]) : [];
      if ([status, ...items.map((item) => item.status)].some((one) => one > 204))
        refused.push(`${call.route} ${status} ${text.slice(0, 300)}`);
    }
    expect(refused.join('\n')).toBe('');
  });
});
