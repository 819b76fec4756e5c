import type { ServerResponse } from 'node:http';
import type { FastifyInstance } from 'fastify';
import type { ServerParts } from './parts.ts';

const heartbeatMilliseconds = 20_000;

/** Tells every open page what has been recorded, as server-sent events. */
export function eventRoutes(server: FastifyInstance, parts: ServerParts): void {
  const listeners = new Set<ServerResponse>();
  const stop = parts.recorder.onRecorded((entries) => {
    const told = entries.map(({ number, kind, station }) => ({ number, kind, station }));
    for (const listener of listeners) {
      listener.write(`data: ${JSON.stringify({ entries: told })}\n\n`);
    }
  });
  const heartbeat = setInterval(() => {
    for (const listener of listeners) listener.write(': still here\n\n');
  }, heartbeatMilliseconds);
  heartbeat.unref();

  server.get('/api/events', (_request, reply) => {
    reply.hijack();
    const stream = reply.raw;
    stream.writeHead(200, {
      'content-type': 'text/event-stream',
      'cache-control': 'no-store',
      'x-accel-buffering': 'no',
    });
    stream.write(': here\n\n');
    listeners.add(stream);
    stream.on('close', () => listeners.delete(stream));
  });

  server.addHook('preClose', async () => {
    stop();
    clearInterval(heartbeat);
    for (const listener of listeners) listener.end();
  });
}
