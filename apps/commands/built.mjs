import { build, client, ensureMade } from './lib/prepare.mjs';
import { tell } from './lib/run.mjs';

/** For commands that run from dist/: makes it first where it is missing or older than its sources. */
try {
  await ensureMade(client);
  await ensureMade(build);
} catch (error) {
  tell(error);
}
