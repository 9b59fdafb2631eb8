import { defineConfig } from 'vite';

/** The pages: plain files in dist/web, served by the API process. */
export default defineConfig({
  root: import.meta.dirname,
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: { outDir: '../../dist/web', emptyOutDir: true, target: 'es2022' },
});
