import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { bindMigrationAwareSqlAdapterFactory, type ErrorRegistry } from '@prisma/driver-adapter-utils';
import * as bindings from '@prisma/schema-engine-wasm/schema_engine_bg';
import { addressOf, migrationAdapter } from './adapter.js';

export type SchemaEngine = bindings.SchemaEngine;

interface Instance {
  exports: { __wbindgen_start(): void };
}

/** Node has it; the type library of a browser would bring the whole DOM with it. */
declare const WebAssembly: {
  instantiate(bytes: Uint8Array, imports: Record<string, unknown>): Promise<{ instance: Instance }>;
};

/** The engine reports a panic through this global; without it a panic would show as a TypeError. */
function registerPanicHandler(): void {
  Object.assign(globalThis, {
    PRISMA_WASM_PANIC_REGISTRY: {
      set_message(message: string) {
        throw new Error(`the migration engine stopped: ${message}`);
      },
    },
  });
}

let loaded: Promise<void> | undefined;

async function load(): Promise<void> {
  registerPanicHandler();
  const entry = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm');
  const bytes = await readFile(new URL('schema_engine_bg.wasm', `file://${entry}`));
  const { instance } = await WebAssembly.instantiate(bytes, { './schema_engine_bg.js': bindings });
  bindings.__wbg_set_wasm(instance.exports);
  instance.exports.__wbindgen_start();
}

/** What the driver threw: the engine hands on its number only. */
function causeOf(error: unknown, registry: ErrorRegistry): unknown {
  const id = error instanceof Error ? /External error id#(\d+)/.exec(error.message)?.[1] : undefined;
  return id === undefined ? error : (registry.consumeError(Number(id))?.error ?? error);
}

/** Runs `work` with the engine of Prisma Migrate itself, as WebAssembly: nothing is downloaded. */
export async function withSchemaEngine<T>(
  url: string,
  datamodels: [path: string, text: string][],
  work: (engine: SchemaEngine) => Promise<T>,
): Promise<T> {
  await (loaded ??= load());
  const adapter = migrationAdapter(addressOf(url));
  const bound = bindMigrationAwareSqlAdapterFactory(adapter.factory);
  try {
    return await work(await bindings.SchemaEngine.new({ datamodels }, () => undefined, bound));
  } catch (error) {
    throw causeOf(error, bound.errorRegistry);
  } finally {
    await adapter.close();
  }
}
