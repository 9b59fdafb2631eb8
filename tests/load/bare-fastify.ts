import Fastify from 'fastify';
import pg from 'pg';

/** The baseline of intake over HTTP: one route, one prepared insert, nothing else. */
const pool = new pg.Pool({
  connectionString: process.env['DATABASE_URL'],
  max: Number(process.env['HEAPWRIGHT_POOL']),
});
await pool.query('CREATE TABLE IF NOT EXISTS bare_lot (id uuid PRIMARY KEY, body jsonb NOT NULL)');

const server = Fastify();
server.get('/', () => ({ status: 'live' }));
server.post('/lots', async (request, reply) => {
  const body = request.body as { id: string };
  await pool.query({
    name: 'bare-insert',
    text: 'INSERT INTO bare_lot (id, body) VALUES ($1, $2)',
    values: [body.id, body],
  });
  return reply.status(201).send({ id: body.id });
});
await server.listen({ port: Number(process.env['PORT']), host: '127.0.0.1' });
process.on('SIGTERM', () => void server.close().then(() => pool.end()));
