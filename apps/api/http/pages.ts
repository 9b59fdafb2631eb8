import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';

/** Built by Vite; beside this file's own folder once compiled, below dist/ when run from source. */
const folders = ['../../../web', '../../../dist/web'].map((path) =>
  fileURLToPath(new URL(path, import.meta.url)),
);

/** Addresses that the pages route themselves: each is answered with the one HTML file. */
const ownRoutes = ['/', '/sites/*', '/batches/*', '/record/*'];

/** Serves the pages beside the API. Without a build of them (a test from source) there are none. */
export async function servePages(app: NestFastifyApplication): Promise<void> {
  const root = folders.find((folder) => existsSync(`${folder}/index.html`));
  if (!root) return;
  await app.register(fastifyStatic, { root, wildcard: false, index: false, cacheControl: false });
  const server = app.getHttpAdapter().getInstance();
  for (const route of ownRoutes) {
    server.get(route, (_request, reply) => reply.header('cache-control', 'no-cache').sendFile('index.html'));
  }
}
