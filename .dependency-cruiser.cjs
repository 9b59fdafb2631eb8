/**
 * The arrows of docs/design.md §2. `tests/unit/house/imports.test.ts` plants a bad import for every rule here
 * and expects it to be caught.
 */
const generated = '^libs/database/generated/';

module.exports = {
  forbidden: [
    {
      name: 'no-circle',
      severity: 'error',
      from: { pathNot: generated },
      to: { circular: true, viaOnly: { pathNot: generated } },
    },
    {
      name: 'libs-know-no-app',
      severity: 'error',
      from: { path: '^libs/' },
      to: { path: '^(apps|prisma|tests)/' },
    },
    {
      name: 'libs-know-no-http',
      comment: 'libs are pure: no Nest, no Fastify, no decorators.',
      severity: 'error',
      from: { path: '^libs/' },
      to: { path: 'node_modules/(@nestjs|fastify|@fastify|class-validator|class-transformer)/' },
    },
    {
      name: 'quantities-stand-alone',
      severity: 'error',
      from: { path: '^libs/quantities/' },
      to: { path: '^libs/(?!quantities/)' },
    },
    {
      name: 'middle-libs-use-quantities-only',
      severity: 'error',
      from: { path: '^libs/(materials|process|accounting)/' },
      to: { path: '^libs/', pathNot: '^libs/($1|quantities)/' },
    },
    {
      name: 'database-stands-alone',
      severity: 'error',
      from: { path: '^libs/database/' },
      to: { path: '^libs/(?!database/)' },
    },
    {
      name: 'libs-do-not-use-the-database',
      severity: 'error',
      from: { path: '^libs/(?!database/)' },
      to: { path: '^libs/database/' },
    },
    {
      name: 'sql-lives-in-records',
      comment: 'Only *.records.ts and the wiring in http/ may reach the database library.',
      severity: 'error',
      from: {
        path: '^apps/api/',
        pathNot: '(\\.records\\.ts$|^apps/api/http/|^apps/api/(app\\.module|main)\\.ts$)',
      },
      to: { path: '^libs/database/' },
    },
    {
      name: 'areas-meet-at-services',
      comment: "Another area's exported service and module only; never its records, DTOs or controller.",
      severity: 'error',
      from: {
        path: '^apps/api/(people|sites|intake|batches|mixing|loggers|monitoring|release|reporting|records)/',
      },
      to: {
        path: '^apps/api/(people|sites|intake|batches|mixing|loggers|monitoring|release|reporting|records)/',
        pathNot: '^apps/api/($1/|[a-z]+/.*\\.(service|module)\\.ts$)',
      },
    },
    {
      name: 'http-knows-no-area',
      severity: 'error',
      from: { path: '^apps/api/http/' },
      to: {
        path: '^apps/api/(people|sites|intake|batches|mixing|loggers|monitoring|release|reporting|records)/',
      },
    },
    {
      name: 'pg-and-prisma-in-the-database-lib-only',
      severity: 'error',
      from: { path: '^(apps|libs)/', pathNot: '^libs/database/' },
      to: { path: 'node_modules/(pg|@prisma)/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(^dist/|^libs/database/generated/)' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['source', 'import', 'node', 'default'],
      extensions: ['.ts', '.js', '.mjs', '.cjs', '.json'],
    },
  },
};
