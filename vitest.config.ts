import { defaultServerConditions } from 'vite';
import { defineConfig } from 'vitest/config';

const conditions = ['source', ...defaultServerConditions];

/** Decorator metadata must match what tsc emits, or Nest would inject undefined. */
const oxc = {
  decorator: { legacy: true, emitDecoratorMetadata: true },
  assumptions: { setPublicClassFields: true },
  typescript: { removeClassFieldsWithoutInitializer: true },
};

export default defineConfig({
  oxc,
  resolve: { conditions },
  ssr: { resolve: { conditions } },
  test: {
    environment: 'node',
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/support/global-setup.ts'],
    env: { TZ: 'UTC' },
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
