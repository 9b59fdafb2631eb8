import type { NestFastifyApplication } from '@nestjs/platform-fastify';

const SWEEP_MS = 50;

/**
 * Lets a stop wait for the requests under way and for nothing more: a connection whose last request is answered
 * would otherwise be kept alive for a minute, and the stop with it.
 */
export function closeConnectionsOnceIdle(app: NestFastifyApplication): void {
  const instance = app.getHttpAdapter().getInstance();
  instance.addHook('preClose', (done) => {
    const { server } = instance;
    if (server.listening) {
      const sweep = setInterval(() => server.closeIdleConnections(), SWEEP_MS);
      server.once('close', () => clearInterval(sweep));
    }
    done();
  });
}
