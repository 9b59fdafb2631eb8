import { RouteConfig } from '@nestjs/platform-fastify';
import type { FastifyInstance } from 'fastify';

/** What every route takes that names no limit of its own. */
export const BODY_MAX_BYTES = 1_048_576;

/** The largest body a route takes, where a file is sent. */
export const BodyLimit = (bytes: number) => RouteConfig({ bodyLimit: bytes });

/** Nest hands a route's configuration to Fastify without acting on it: the limit is put where Fastify looks for it. */
export function honourBodyLimits(fastify: FastifyInstance): void {
  fastify.addHook('onRoute', (route) => {
    const { bodyLimit } = (route.config ?? {}) as { bodyLimit?: number };
    if (bodyLimit !== undefined) route.bodyLimit = bodyLimit;
  });
}
