import { type Calculation, catalogue, topics } from '@cupel/calculation';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { CalculationStopped, CalculationThreads } from './calculation-threads.ts';

/** The catalogue in the order in which its topics are shown. */
const shownOrder = catalogue.toSorted(
  (left, right) => topics.indexOf(left.topic) - topics.indexOf(right.topic),
);

const byId = new Map(catalogue.map((calculation) => [calculation.id, calculation]));

function summary({ id, version, topic, title, purpose, source }: Calculation) {
  return { id, version, topic, title, purpose, source };
}

/** A calculation with its schemas as JSON Schema. */
function describeCalculation(calculation: Calculation) {
  return {
    ...summary(calculation),
    cautions: calculation.cautions ?? [],
    input: z.toJSONSchema(calculation.input, { io: 'input', unrepresentable: 'any' }),
    output: z.toJSONSchema(calculation.output, { io: 'output', unrepresentable: 'any' }),
    example: calculation.example,
  };
}

/** The calculating desk: every calculation of the catalogue, described and run. */
export function calculationRoutes(server: FastifyInstance): void {
  const threads = new CalculationThreads();
  server.addHook('onClose', () => threads.close());

  server.get('/api/calculations', async () => ({ calculations: shownOrder.map(summary) }));

  server.get<{ Params: { id: string } }>('/api/calculations/:id', async (request, reply) => {
    const calculation = byId.get(request.params.id);
    if (!calculation) {
      return reply.code(404).send({ message: `There is no calculation ${request.params.id}.` });
    }
    return describeCalculation(calculation);
  });

  server.post<{ Params: { id: string } }>('/api/calculations/:id', async (request, reply) => {
    const calculation = byId.get(request.params.id);
    if (!calculation) {
      return reply.code(404).send({ message: `There is no calculation ${request.params.id}.` });
    }
    try {
      // Who stops waiting stops the work.
      const left = new AbortController();
      reply.raw.once('close', () => left.abort());
      const answer = await threads.run(calculation.id, request.body, left.signal);
      return reply.code(answer.outcome === 'computed' ? 200 : 422).send(answer);
    } catch (error) {
      if (!(error instanceof CalculationStopped)) throw error;
      return reply.code(503).send({ message: error.message });
    }
  });
}
