import type { FastifyReply } from 'fastify';
import type { Recorded } from './replay.js';

/** 201 for what is new; 200 with the first result for what had been sent before. */
export function answer<T>(reply: FastifyReply, { replayed, body }: Recorded<T>): T {
  void reply.status(replayed ? 200 : 201);
  return body;
}
