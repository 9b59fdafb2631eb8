import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** Folder of the project. */
export const root = fileURLToPath(new URL('../../..', import.meta.url));

/** Something that the person at this machine must see or mend, with what a program had printed of it. */
export class Failure extends Error {
  constructor(message, output = '') {
    super(message);
    this.output = output;
  }
}

/** Tells a failure in its own words, without the trace that a fault of ours would have. */
export function tell(error) {
  if (!(error instanceof Failure)) throw error;
  console.error(`${error.output}\n${error.message}`);
  process.exitCode = 1;
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
    child.once('error', (error) => reject(new Failure(`${commandLine}: ${error.message}`)));
    child.once('close', (code, signal) => {
      const output = chunks.join('');
      if (code === 0) resolve(output);
      else {
        const outcome = signal ? `ended by ${signal}` : `exit code ${code}`;
        reject(new Failure(`${commandLine}: ${outcome}`, output));
      }
    });
  });
}

/** Says what is being done, and when it is done how long it took. */
export async function timed(what, work, out = process.stdout) {
  const startedMs = Date.now();
  out.write(`  ${what} … `);
  try {
    return await work();
  } finally {
    out.write(`${((Date.now() - startedMs) / 1000).toFixed(1)} s\n`);
  }
}
