import { isIP } from 'node:net';
import { cleanEnv, EnvError, makeValidator, num, port, str } from 'envalid';

/** What the environment says, checked once at the start. */
export interface Settings {
  databaseUrl: string;
  port: number;
  host: string;
  poolSize: number;
  firstEmail: string;
  /** The first coordinator's name, as it stands under what they sign. */
  firstName: string;
  firstPassword: string;
  /** Addresses and ranges whose `X-Forwarded-…` headers are believed. */
  trustedProxies: string[];
  /** Name of the programme, as documents print it. */
  programme: string;
  /** Where anybody reaches the pages, without a slash at the end; empty where nobody outside does. */
  publicUrl: string;
}

export const SETTINGS = Symbol('settings');

function isRange(text: string): boolean {
  const [address = '', bits = '1', ...more] = text.split('/');
  const most = isIP(address) === 4 ? 32 : 128;
  const inRange = /^[1-9]\d{0,2}$/.test(bits) && Number(bits) <= most;
  return isIP(address) !== 0 && inRange && more.length === 0;
}

/** IP addresses, ranges of them (`10.0.0.0/8`) or `loopback`, with commas between. */
export function proxiesOf(text: string): string[] {
  const proxies = text.split(',').map((part) => part.trim());
  const wrong = proxies.find((proxy) => proxy !== 'loopback' && !isRange(proxy));
  if (wrong === undefined) return proxies;
  throw new EnvError(`"${wrong}" is no IP address, no range such as 10.0.0.0/8, and not loopback`);
}

/** An address that a label can lead to, with what a proxy puts before the path, or nothing. */
export function publicUrlOf(text: string): string {
  if (text === '') return text;
  const url = URL.canParse(text) ? new URL(text) : null;
  const plain = url && /^https?:$/.test(url.protocol) && !url.search && !url.hash && !url.username;
  if (plain && url.href.length <= 200) return url.href.replace(/\/+$/, '');
  throw new EnvError(`"${text}" is no address such as https://compost.example.org`);
}

const publicUrl = makeValidator(publicUrlOf);
const proxies = makeValidator(proxiesOf);

export function settingsOf(environment: NodeJS.ProcessEnv): Settings {
  const env = cleanEnv(environment, {
    DATABASE_URL: str(),
    PORT: port({ default: 3000 }),
    HOST: str({ default: '127.0.0.1' }),
    HEAPWRIGHT_POOL: num({ default: 10 }),
    HEAPWRIGHT_FIRST_EMAIL: str({ default: '' }),
    HEAPWRIGHT_FIRST_NAME: str({ default: 'First coordinator' }),
    HEAPWRIGHT_FIRST_PASSWORD: str({ default: '' }),
    HEAPWRIGHT_TRUSTED_PROXIES: proxies({ default: ['loopback'] }),
    HEAPWRIGHT_PROGRAMME: str({ default: 'Community composting programme' }),
    HEAPWRIGHT_PUBLIC_URL: publicUrl({ default: '' }),
  });
  return {
    databaseUrl: env.DATABASE_URL,
    port: env.PORT,
    host: env.HOST,
    poolSize: env.HEAPWRIGHT_POOL,
    firstEmail: env.HEAPWRIGHT_FIRST_EMAIL,
    firstName: env.HEAPWRIGHT_FIRST_NAME,
    firstPassword: env.HEAPWRIGHT_FIRST_PASSWORD,
    trustedProxies: env.HEAPWRIGHT_TRUSTED_PROXIES,
    programme: env.HEAPWRIGHT_PROGRAMME,
    publicUrl: env.HEAPWRIGHT_PUBLIC_URL,
  };
}
