import { createParamDecorator, type ExecutionContext } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { Problem } from '../problems/catalogue.js';

/** The version a change was made against, from `If-Match: "3"`. Without one it is refused (428). */
export const IfMatch = createParamDecorator((_: unknown, context: ExecutionContext): number => {
  const header = context.switchToHttp().getRequest<FastifyRequest>().headers['if-match'];
  if (header === undefined) throw new Problem('condition-missing');
  const version = /^(?:W\/)?"(\d{1,9})"$/.exec(header)?.[1];
  if (version === undefined) throw new Problem('changed-meanwhile');
  return Number(version);
});

/** Puts the version of a setting into its ETag. */
export function withEtag<T extends { version: number }>(reply: FastifyReply, setting: T): T {
  void reply.header('etag', `"${setting.version}"`);
  return setting;
}
