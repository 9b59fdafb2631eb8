import { isUtf8 } from 'node:buffer';
import type { FastifyInstance } from 'fastify';
import { Problem } from './problems/catalogue.js';

/**
 * Bodies are JSON: a form or plain text is refused (415) rather than taken for something it is not. JSON is UTF-8
 * (RFC 8259 §8.1); in any other encoding a name would be kept with its letters replaced, so it is refused as well.
 */
export function takeJsonOnly(fastify: FastifyInstance): void {
  const parse = fastify.getDefaultJsonParser('error', 'error');
  fastify.removeAllContentTypeParsers();
  fastify.addContentTypeParser<Buffer>('application/json', { parseAs: 'buffer' }, (request, body, done) => {
    if (isUtf8(body)) void parse(request, body.toString(), done);
    else done(new Problem('malformed-json', 'It is not UTF-8.'));
  });
}
