import type { ServerResponse } from 'node:http';
import type { FastifyInstance } from 'fastify';
import { toldOfLines } from './instrument-routes.ts';
import type { ServerParts } from './parts.ts';
import { personAt } from './session.ts';

const heartbeatMilliseconds = 20_000;
/** So many pages of one session are told; another one closes the oldest. */
const streamsPerSession = 12;

/** Tells every open page what has been recorded and what instruments send, as server-sent events. */
export function eventRoutes(server: FastifyInstance, parts: ServerParts): void {
  /** Each open stream with the token of the session that it belongs to. */
  const listeners = new Map<ServerResponse, string>();
  const stop = parts.recorder.onRecorded((entries) => {
    const told = entries.map(({ number, kind, station }) => ({ number, kind, station }));
    for (const listener of listeners.keys()) {
      listener.write(`data: ${JSON.stringify({ entries: told })}\n\n`);
    }
  });
  const stopLines = toldOfLines(parts, (name, data) => {
    for (const listener of listeners.keys()) {
      listener.write(`event: ${name}\ndata: ${JSON.stringify(data)}\n\n`);
    }
  });
  const heartbeat = setInterval(() => {
    for (const [listener, token] of listeners) {
      if (parts.accounts.session(token, { byHand: false })) listener.write(': still here\n\n');
      else listener.end();
    }
  }, heartbeatMilliseconds);
  heartbeat.unref();

  server.get('/api/events', (request, reply) => {
    const { sessionToken } = personAt(request);
    const own = [...listeners].filter(([, token]) => token === sessionToken);
    if (own.length >= streamsPerSession) own[0]?.[0].end();
    reply.hijack();
    const stream = reply.raw;
    stream.writeHead(200, {
      'content-type': 'text/event-stream',
      'cache-control': 'no-store',
      'x-content-type-options': 'nosniff',
      'x-accel-buffering': 'no',
    });
    stream.write(': here\n\n');
    listeners.set(stream, sessionToken);
    stream.on('close', () => listeners.delete(stream));
  });

  server.addHook('preClose', async () => {
    stop();
    stopLines?.();
    clearInterval(heartbeat);
    for (const listener of listeners.keys()) listener.end();
  });
}
