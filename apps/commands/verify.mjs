import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkNode, checkReach, ensureTestPrograms } from './lib/machine.mjs';
import { build, client, ensureInstalled, makeAnew } from './lib/prepare.mjs';
import { run, tell, timed } from './lib/run.mjs';

/**
 * `npm run verify`: everything that must hold, in the order in which it fails fastest. Stops at the first step
 * that fails and names it; closes with a line that counts the tests.
 */
const npmRun = (script) => () => run('npm', ['run', '--silent', script]);

const checks = [
  ['database client', () => makeAnew(client)],
  ['types', npmRun('types')],
  ['lint', npmRun('lint')],
  ['format', npmRun('format:check')],
  ['imports', npmRun('imports')],
  ['build', () => makeAnew(build)],
  ['openapi.json against the controllers', npmRun('openapi:check')],
  ['schema against the migrations', () => run('npm', ['run', '--silent', 'database', '--', 'drift'])],
];

/** A file that failed to load ran no test of its own, and must not pass for none failed. */
function countsOf({ testResults, numPassedTests, numFailedTests, numPendingTests, numTodoTests }) {
  const unloaded = testResults.filter(
    ({ status, assertionResults }) =>
      status === 'failed' && !assertionResults.some((test) => test.status === 'failed'),
  );
  const skipped = numPendingTests + numTodoTests;
  const failed = numFailedTests + unloaded.length;
  const line = `${numPassedTests} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
  return { line, failed };
}

/** Runs every test and answers the closing line and what, if anything, failed. */
async function runTests() {
  const folder = await mkdtemp(join(tmpdir(), 'heapwright-verify-'));
  const report = join(folder, 'tests.json');
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  try {
    const failure = await run(process.execPath, ['node_modules/vitest/vitest.mjs', 'run', ...reporters], {
      shown: true,
    }).then(
      () => undefined,
      (error) => error,
    );
    const text = await readFile(report, 'utf8').catch(() => undefined);
    if (text === undefined) throw failure ?? new Error('the test run left no report');
    const { line, failed } = countsOf(JSON.parse(text));
    return { line, problem: failed > 0 ? `${failed} failed` : failure?.message };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

let step = 'this machine';
try {
  console.log('Heapwright: verify');
  checkNode();
  checkReach('.data');
  await ensureTestPrograms();
  step = 'install';
  await ensureInstalled();
  for (const [name, work] of checks) {
    step = name;
    await timed(name, work);
  }
  step = 'tests';
  const { line, problem } = await timed('tests', runTests);
  if (problem) console.error(`\nverify stopped at: tests (${problem})`);
  console.log(`\n${line}`);
  process.exitCode = problem ? 1 : 0;
} catch (error) {
  tell(error);
  console.error(`verify stopped at: ${step}`);
}
