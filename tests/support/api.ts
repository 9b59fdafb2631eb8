import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { createApp } from '../../apps/api/app.js';
import type { Settings } from '../../apps/api/http/settings.js';
import { freshDatabase } from './database.js';

export interface Answer<T = any> {
  status: number;
  headers: Record<string, string | string[] | number | undefined>;
  body: T;
  text: string;
  bytes: Buffer;
}

export interface CallOptions {
  /** Session token; without one the call has no session. */
  as?: string;
  body?: unknown;
  headers?: Record<string, string>;
}

type Call = <T = any>(method: string, path: string, options?: CallOptions) => Promise<Answer<T>>;

export interface TestApi {
  app: NestFastifyApplication;
  databaseUrl: string;
  /** Calls `/api` + path. */
  call: Call;
  /** Token of the first coordinator. */
  coordinator: string;
  signIn(email: string, password: string): Promise<string>;
  stop(): Promise<void>;
}

export const FIRST = { email: 'first@larkhollow.example', password: 'a long first password' };

/** The real application on its own database, called without a socket. */
export async function startApi(changes: Partial<Settings> = {}): Promise<TestApi> {
  const database = await freshDatabase();
  const app = await createApp(
    {
      databaseUrl: database.url,
      port: 0,
      host: '127.0.0.1',
      poolSize: 5,
      firstEmail: FIRST.email,
      firstName: 'First coordinator',
      firstPassword: FIRST.password,
      trustedProxies: ['loopback'],
      programme: 'Lark Hollow Compost',
      publicUrl: '',
      ...changes,
    },
    ['error'],
  );
  const call: Call = (method, path, options = {}) => inject(app, method, path, options);
  const signIn = async (email: string, password: string) => {
    const answer = await call('POST', '/sessions', { body: { email, password } });
    if (answer.status !== 201) throw new Error(`sign-in of ${email} answered ${answer.status}`);
    return answer.body.token as string;
  };
  return {
    app,
    databaseUrl: database.url,
    call,
    signIn,
    coordinator: await signIn(FIRST.email, FIRST.password),
    async stop() {
      await app.close();
      await database.drop();
    },
  };
}

async function inject<T>(
  app: NestFastifyApplication,
  method: string,
  path: string,
  { as, body, headers }: CallOptions,
): Promise<Answer<T>> {
  const response = await app.inject({
    method: method as 'GET',
    url: `/api${path}`,
    ...(body === undefined ? {} : { payload: body as object }),
    headers: { ...(as ? { authorization: `Bearer ${as}` } : {}), ...headers },
  });
  const type = String(response.headers['content-type'] ?? '');
  return {
    status: response.statusCode,
    headers: response.headers,
    text: response.payload,
    bytes: response.rawPayload,
    body: (type.includes('json') && response.payload ? JSON.parse(response.payload) : undefined) as T,
  };
}
