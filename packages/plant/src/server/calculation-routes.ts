import {
  type Calculation,
  type CalculationResult,
  catalogue,
  runCalculation,
  topics,
} from '@cupel/calculation';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';

/** The catalogue in the order in which its topics are shown. */
const shownOrder = catalogue.toSorted(
  (left, right) => topics.indexOf(left.topic) - topics.indexOf(right.topic),
);

const byId = new Map(catalogue.map((calculation) => [calculation.id, calculation]));

function summary({ id, version, topic, title, purpose, source }: Calculation) {
  return { id, version, topic, title, purpose, source };
}

/** A calculation with its schemas as JSON Schema. */
export function describeCalculation(calculation: Calculation) {
  return {
    ...summary(calculation),
    cautions: calculation.cautions ?? [],
    input: z.toJSONSchema(calculation.input, { io: 'input', unrepresentable: 'any' }),
    output: z.toJSONSchema(calculation.output, { io: 'output', unrepresentable: 'any' }),
    example: calculation.example,
  };
}

/** A result as it is sent: what JSON has no word for is written as text. */
function sendable(calculation: Calculation, input: unknown, result: CalculationResult) {
  if (result.outcome === 'computed') {
    const parsed = calculation.input.parse(input);
    return { ...result, drawings: calculation.draw?.(parsed, result.output) ?? [] };
  }
  const problems = result.problems.map(({ field, value, accepted }) => ({
    field,
    value: value === undefined ? null : typeof value === 'bigint' ? String(value) : value,
    accepted,
  }));
  return { ...result, problems };
}

/** The calculating desk: every calculation of the catalogue, described and run. */
export function calculationRoutes(server: FastifyInstance): void {
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
    const result = runCalculation(calculation, request.body);
    reply.code(result.outcome === 'computed' ? 200 : 422);
    return sendable(calculation, request.body, result);
  });
}
