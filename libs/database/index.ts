export { Database, type Sql, type Tx } from './database.js';
export { startEmbedded, type EmbeddedOptions, type EmbeddedServer } from './embedded.js';
export { refusalOf, type DatabaseRefusal } from './failure.js';
export { Prisma } from './generated/client.js';
export { applyMigrations, createMigration, driftSql, type MigrationFolder } from './migrate/index.js';
export { createDatabase, databaseExists, dropDatabase, replaceDatabase } from './server.js';
