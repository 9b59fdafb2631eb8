import { build, client, ensureMade } from './lib/prepare.mjs';
import { tell } from './lib/run.mjs';

/**
 * For commands that run from dist/: makes it first where it is missing or older than its sources. It tells of that on
 * standard error, since what the command answers may be read by a program.
 */
try {
  await ensureMade(client, process.stderr);
  await ensureMade(build, process.stderr);
} catch (error) {
  tell(error);
}
