import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** Folder of the project. */
export const root = fileURLToPath(new URL('../../..', import.meta.url));

/** A program that ended badly: what it was and what it had printed. */
export class CommandFailed extends Error {
  constructor(commandLine, outcome, output) {
    super(`${commandLine}: ${outcome}`);
    this.output = output;
  }
}

/**
 * Runs a program in the project's folder. Its output is kept back, for whoever catches its failure; with
 * `shown` it goes straight to the screen.
 */
export function run(program, parameters, { shown = false, env = {} } = {}) {
  const commandLine = [program, ...parameters].join(' ');
  return new Promise((resolve, reject) => {
    const child = spawn(program, parameters, {
      cwd: root,
      env: { ...process.env, ...env },
      stdio: shown ? ['ignore', 'inherit', 'inherit'] : ['ignore', 'pipe', 'pipe'],
    });
    const chunks = [];
    child.stdout?.on('data', (chunk) => chunks.push(chunk));
    child.stderr?.on('data', (chunk) => chunks.push(chunk));
    child.once('error', (error) => reject(new CommandFailed(commandLine, error.message, '')));
    child.once('close', (code, signal) => {
      const output = chunks.join('');
      if (code === 0) resolve(output);
      else
        reject(new CommandFailed(commandLine, signal ? `ended by ${signal}` : `exit code ${code}`, output));
    });
  });
}

/** Says what is being done, and when it is done how long it took. */
export async function timed(what, work) {
  const startedMs = Date.now();
  process.stdout.write(`  ${what} … `);
  try {
    return await work();
  } finally {
    console.log(`${((Date.now() - startedMs) / 1000).toFixed(1)} s`);
  }
}
