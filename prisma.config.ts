import { defineConfig } from 'prisma/config';

// Generating the client needs no engine. Pointing the CLI at a program that always fails keeps it from
// downloading one; migrations are applied by libs/database/migrate.ts instead. (`/bin/true` would let
// `prisma migrate` report success having done nothing.)
process.env['PRISMA_SCHEMA_ENGINE_BINARY'] ??= '/bin/false';

export default defineConfig({
  schema: 'prisma/schema',
  migrations: { path: 'prisma/migrations' },
});
