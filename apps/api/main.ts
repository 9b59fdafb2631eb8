import { createApp } from './app.js';
import { settingsOf } from './http/settings.js';

const settings = settingsOf(process.env);
const app = await createApp(settings);
// By exit, not by sending itself the signal again: as process 1 of a container that would be ignored.
app.enableShutdownHooks([], { useProcessExit: true });
await app.listen(settings.port, settings.host);
console.log(`Heapwright listens on http://${settings.host}:${settings.port}`);
