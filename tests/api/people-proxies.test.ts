import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { proxiesOf } from '../../apps/api/http/settings.js';
import { FIRST, startApi, type TestApi } from '../support/api.js';

describe('trusted proxies', () => {
  let api: TestApi;
  beforeAll(async () => {
    api = await startApi({ trustedProxies: proxiesOf('loopback, 10.20.0.0/16') });
  });
  afterAll(() => api.stop());

  it.each([
    ['127.0.0.1', true],
    ['10.20.3.4', true],
    ['10.21.3.4', false],
  ])('believes %s that a visitor came by TLS: %s', async (remoteAddress, believed) => {
    const answer = await api.app.inject({
      method: 'POST',
      url: '/api/sessions',
      payload: FIRST,
      remoteAddress,
      headers: { 'x-forwarded-proto': 'https', 'x-forwarded-for': '192.0.2.7' },
    });
    expect(answer.statusCode).toBe(201);
    expect(/; Secure/.test(String(answer.headers['set-cookie']))).toBe(believed);
  });

  it.each(['loopback', '192.0.2.1', '192.0.2.0/24', '2001:db8::1', '2001:db8::/32'])('takes %s', (text) => {
    expect(proxiesOf(text)).toEqual([text]);
  });

  it.each([
    '',
    'proxy.example',
    '192.0.2.256',
    '192.0.2.0/33',
    '0.0.0.0/0',
    '192.0.2.0/24/8',
    '192.0.2.0/',
    'true',
  ])('refuses %j', (text) => {
    expect(() => proxiesOf(text)).toThrow(`"${text}" is no IP address`);
  });
});
