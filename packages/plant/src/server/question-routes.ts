import { problemsOf } from '@cupel/calculation';
import type { FastifyInstance } from 'fastify';
import type { ServerParts } from './parts.ts';
import { personAt } from './session.ts';

function parsed(text: string | undefined): { value: unknown } | undefined {
  if (text === undefined || text === '') return { value: {} };
  try {
    return { value: JSON.parse(text) };
  } catch {
    return undefined;
  }
}

/** Questions: what the books say, as the person may know it. */
export function questionRoutes(server: FastifyInstance, parts: ServerParts): void {
  const core = new Map(parts.coreQuestions.map((question) => [question.question, question]));
  server.get<{ Params: { question: string }; Querystring: { input?: string } }>(
    '/api/questions/:question',
    async (request, reply) => {
      const { question: name } = request.params;
      const question = core.get(name) ?? parts.registry.question(name);
      if (!question) return reply.code(404).send({ message: `There is no question ${name}.` });
      const input = parsed(request.query.input);
      if (!input) return reply.code(400).send({ message: 'The input is not JSON.' });
      const good = question.input.safeParse(input.value ?? {});
      if (!good.success) {
        const problems = problemsOf(good.error, input.value).map((problem) => ({
          ...problem,
          value: problem.value === undefined ? null : problem.value,
        }));
        return reply.code(400).send({ message: 'The question is not put right.', problems });
      }
      return question.answer(parts.books, good.data, {
        person: personAt(request).person,
        instant: new Date(parts.clock.now()).toISOString(),
      });
    },
  );
}
