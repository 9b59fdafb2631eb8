import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { checkDocument } from '#libs/documents';

/**
 * `npm run check -- FILE [--seal HEX]`: whether a report or a batch record is as it was sealed. Asks nobody and needs no
 * database. Ends with 0 where everything agreed, otherwise with 1.
 */
async function run(): Promise<boolean> {
  const { values, positionals } = parseArgs({
    options: { seal: { type: 'string' } },
    allowPositionals: true,
  });
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0) {
    console.error('usage: npm run check -- FILE.json|FILE.pdf [--seal HEX]');
    return false;
  }
  const { ok, lines } = await checkDocument(await readFile(file), values.seal ?? null);
  for (const line of lines) console.log(line);
  console.log(ok ? 'OK' : 'NOT CONFIRMED');
  return ok;
}

const ok = await run().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : String(error));
  return false;
});
process.exitCode = ok ? 0 : 1;
