import { RouteConfig } from '@nestjs/platform-fastify';
import type { FastifyInstance, onRequestHookHandler } from 'fastify';
import { tokenOf } from './access/authenticator.js';
import { Problem } from './problems/catalogue.js';

/** What every route takes that names no limit of its own. */
export const BODY_MAX_BYTES = 1_048_576;

/** The largest body a route takes, where a file is sent. */
export const BodyLimit = (bytes: number) => RouteConfig({ bodyLimit: bytes });

/**
 * A body is read before the guard asks who sends it: so a large one is refused at the head of the request where no
 * session is so much as claimed. What follows of it is not read.
 */
const requireToken: onRequestHookHandler = (request, reply, done) => {
  if (tokenOf(request) === null) {
    void reply.header('connection', 'close');
    done(new Problem('not-signed-in'));
  } else done();
};

/** Nest hands a route's configuration to Fastify without acting on it: the limit is put where Fastify looks for it. */
export function honourBodyLimits(fastify: FastifyInstance): void {
  fastify.addHook('onRoute', (route) => {
    const { bodyLimit } = (route.config ?? {}) as { bodyLimit?: number };
    if (bodyLimit === undefined) return;
    route.bodyLimit = bodyLimit;
    if (bodyLimit > BODY_MAX_BYTES) route.onRequest = requireToken;
  });
}
