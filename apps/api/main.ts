import { createApp } from './app.js';
import { settingsOf } from './http/settings.js';

const settings = settingsOf(process.env);
const app = await createApp(settings);
await app.listen(settings.port, settings.host);
console.log(`Heapwright listens on http://${settings.host}:${settings.port}`);
