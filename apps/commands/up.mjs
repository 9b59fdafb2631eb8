import { spawn } from 'node:child_process';
import { checkNode, checkReach } from './lib/machine.mjs';
import { build, client, ensureInstalled, ensureMade } from './lib/prepare.mjs';
import { root, tell } from './lib/run.mjs';

/**
 * `npm run up`: installs and builds what is missing, then runs the programme until it is told to stop. Plain
 * Node, because nothing may be installed yet.
 */
async function prepare() {
  console.log('Heapwright');
  checkNode();
  if (!process.env.DATABASE_URL) checkReach(process.env.HEAPWRIGHT_DATA || '.data');
  await ensureInstalled();
  await ensureMade(client);
  await ensureMade(build);
}

/** npm may be killed without a word; what it started must not go on unseen. */
function onParentGone(act) {
  const parent = process.ppid;
  const watch = setInterval(() => {
    if (process.ppid === parent) return;
    clearInterval(watch);
    act();
  }, 500);
}

/**
 * In a session of its own: Ctrl-C reaches every program of a terminal's group at once, and PostgreSQL would be
 * gone before the last request is answered. The signal is handed on to the programme alone, which ends the
 * rest in order; it also ends when this process disappears.
 */
function runProgramme() {
  const program = spawn(process.execPath, ['--enable-source-maps', 'dist/apps/commands/up.js'], {
    cwd: root,
    detached: true,
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  });
  const stop = () => program.kill('SIGTERM');
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, stop);
  if (process.env.npm_lifecycle_event === 'up') onParentGone(stop);
  program.once('exit', (code, signal) => {
    if (signal)
      console.error(`The programme was ended by ${signal}. Nothing acknowledged is lost: start it again.`);
    process.exit(code ?? 1);
  });
}

try {
  await prepare();
  runProgramme();
} catch (error) {
  tell(error);
}
