import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Reading } from '../journal/reading.ts';
import type { ReceivedLine } from '../ports/instrument-line.ts';
import { refusalOfTaking } from './instrument-refusals.ts';
import type { ServerParts } from './parts.ts';

const usualLimitMilliseconds = 5000;
const readBody = z
  .strictObject({ limitMilliseconds: z.int().min(200).max(20_000).optional() })
  .nullish();

/** The reading of a line, as commands take it, with what else the line says. */
function readingOf(line: ReceivedLine) {
  const { text, unit, received, instrument, raw, net } = line;
  const reading: Reading = { text, unit, typed: false, received };
  return { reading, instrument, net, raw };
}

/** Instruments on lines of their own: what their lines do, and stable readings when asked for. */
export function instrumentRoutes(server: FastifyInstance, parts: ServerParts): void {
  const { instrumentLines: lines } = parts;

  server.get('/api/instrument-lines', async () => ({ lines: lines?.states() ?? [] }));

  server.get<{ Params: { instrument: string } }>(
    '/api/instruments/:instrument/line',
    async (request, reply) => {
      const state = lines?.state(request.params.instrument);
      if (state) return state;
      return reply.code(404).send({ message: `${request.params.instrument} is read on no line.` });
    },
  );

  server.get<{ Params: { instrument: string } }>(
    '/api/instruments/:instrument/curves',
    async (request, reply) => {
      const curves = lines?.curves(request.params.instrument);
      if (curves) return { curves };
      return reply.code(404).send({ message: `${request.params.instrument} is read on no line.` });
    },
  );

  server.post<{ Params: { instrument: string } }>(
    '/api/instruments/:instrument/read',
    async (request, reply) => {
      const { instrument } = request.params;
      const body = readBody.safeParse(request.body);
      if (!body.success) {
        const message = 'limitMilliseconds: a whole number from 200 to 20000';
        return reply.code(400).send({ message });
      }
      const limit = body.data?.limitMilliseconds ?? usualLimitMilliseconds;
      const taken = await lines?.take(instrument, limit);
      if (!taken) return reply.code(404).send({ message: `${instrument} is read on no line.` });
      if (taken.taken) return readingOf(taken.line);
      const refusals = [refusalOfTaking(taken, limit)];
      return reply.code(422).send({ outcome: 'refused', refusals });
    },
  );

  server.get<{ Params: { received: string }; Querystring: { until?: string } }>(
    '/api/received-lines/:received',
    async (request, reply) => {
      const { received } = request.params;
      const now = new Date(parts.clock.now()).toISOString();
      const until = z.iso.datetime().safeParse(request.query.until ?? now);
      if (!until.success || !/^[0-9a-f]{64}$/.test(received)) {
        return reply.code(400).send({ message: 'Asked for by a SHA-256 and an instant.' });
      }
      const line = await lines?.received(received, until.data);
      if (line) return line;
      return reply.code(404).send({ message: 'There is no such line in the 400 days before.' });
    },
  );
}

/** What open pages are told of a line, as the name and the data of a server-sent event. */
export function toldOfLines(parts: ServerParts, tell: (name: string, data: object) => void) {
  return parts.instrumentLines?.onNews((news) => {
    switch (news.news) {
      case 'reading':
        tell('instrument-reading', { ...readingOf(news.line), measures: news.measures });
        return;
      case 'no reading':
        tell('instrument-no-reading', {
          instrument: news.instrument,
          raw: news.heard.raw,
          decoded: news.heard.decoded,
        });
        return;
      case 'state':
        tell('instrument-state', { instrument: news.instrument });
        return;
    }
  });
}
