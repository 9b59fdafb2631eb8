import { build, client, ensureMade } from './lib/prepare.mjs';

/** For commands that run from dist/: makes it first where it is missing or older than its sources. */
await ensureMade(client);
await ensureMade(build);
