import { cleanEnv, num, port, str } from 'envalid';

/** What the environment says, checked once at the start. */
export interface Settings {
  databaseUrl: string;
  port: number;
  host: string;
  poolSize: number;
  firstEmail: string;
  firstPassword: string;
  /** Name of the programme, as documents print it. */
  programme: string;
}

export const SETTINGS = Symbol('settings');

export function settingsOf(environment: NodeJS.ProcessEnv): Settings {
  const env = cleanEnv(environment, {
    DATABASE_URL: str(),
    PORT: port({ default: 3000 }),
    HOST: str({ default: '127.0.0.1' }),
    HEAPWRIGHT_POOL: num({ default: 10 }),
    HEAPWRIGHT_FIRST_EMAIL: str({ default: '' }),
    HEAPWRIGHT_FIRST_PASSWORD: str({ default: '' }),
    HEAPWRIGHT_PROGRAMME: str({ default: 'Community composting programme' }),
  });
  return {
    databaseUrl: env.DATABASE_URL,
    port: env.PORT,
    host: env.HOST,
    poolSize: env.HEAPWRIGHT_POOL,
    firstEmail: env.HEAPWRIGHT_FIRST_EMAIL,
    firstPassword: env.HEAPWRIGHT_FIRST_PASSWORD,
    programme: env.HEAPWRIGHT_PROGRAMME,
  };
}
