import { createServer } from 'node:net';

const TRIES = 100;

type Outcome = 'free' | 'taken';

function probe(port: number, host: string): Promise<Outcome> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EADDRINUSE') resolve('taken');
      else reject(new Error(`port ${port} of ${host} cannot be used: ${error.message}`, { cause: error }));
    });
    server.listen({ port, host, exclusive: true }, () => server.close(() => resolve('free')));
  });
}

/** The wanted port, or the next one after it that nobody listens on. */
export async function freePortFrom(wanted: number, host: string): Promise<number> {
  const last = Math.min(wanted + TRIES, 65_535);
  for (let port = wanted; port <= last; port += 1) {
    if ((await probe(port, host)) === 'free') return port;
  }
  throw new Error(`every port of ${host} from ${wanted} to ${last} is taken; name another in PORT`);
}
