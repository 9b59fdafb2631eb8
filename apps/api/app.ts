import 'reflect-metadata';
import cookie from '@fastify/cookie';
import helmet from '@fastify/helmet';
import type { LogLevel } from '@nestjs/common';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import { AppModule } from './app.module.js';
import { closeConnectionsOnceIdle } from './http/draining.js';
import { BODY_MAX_BYTES, honourBodyLimits } from './http/body-limit.js';
import { takeJsonOnly } from './http/json-body.js';
import { openApiOf, serveDocs } from './http/openapi.js';
import { servePages } from './http/pages.js';
import { refuseEarly } from './http/problems/filter.js';
import type { Settings } from './http/settings.js';

/** Nothing is loaded from elsewhere. The API's own documentation page styles itself inline. */
const directives = { 'style-src': ["'self'", "'unsafe-inline'"], 'upgrade-insecure-requests': null };

/** The whole API, ready to listen or to be injected into; one start of Nest and nothing else. */
export async function createApp(
  settings: Settings,
  logLevels: LogLevel[] = ['error', 'warn', 'log'],
): Promise<NestFastifyApplication> {
  const adapter = new FastifyAdapter({
    bodyLimit: BODY_MAX_BYTES,
    trustProxy: settings.trustedProxies,
    frameworkErrors: refuseEarly,
  });
  honourBodyLimits(adapter.getInstance());
  takeJsonOnly(adapter.getInstance());
  const app = await NestFactory.create<NestFastifyApplication>(AppModule.with(settings), adapter, {
    logger: logLevels,
    bodyParser: false,
  });
  app.setGlobalPrefix('api');
  await app.register(cookie);
  await app.register(helmet, { contentSecurityPolicy: { directives } });
  closeConnectionsOnceIdle(app);
  await servePages(app);
  serveDocs(app, openApiOf(app));
  await app.init();
  await adapter.getInstance().ready();
  return app;
}
