import { defineConfig } from 'vite';

/** Of libs the pages take what they use and no more: importing one does nothing by itself, and decimals are large. */
const isPure = (id: string) => /\/libs\/|\/node_modules\/decimal\.js\//.test(id);

/** The pages: plain files in dist/web, served by the API process. */
export default defineConfig({
  root: import.meta.dirname,
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    ...{ outDir: '../../dist/web', emptyOutDir: true, target: 'es2022' },
    rolldownOptions: { treeshake: { moduleSideEffects: (id) => !isPure(id) } },
  },
});
