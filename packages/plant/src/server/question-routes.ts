import { problemsOf } from '@cupel/calculation';
import type { FastifyInstance } from 'fastify';
import { CalculationStopped, CalculationThreads } from './calculation-threads.ts';
import { greatestNesting, isTooDeep } from './nesting.ts';
import type { ServerParts } from './parts.ts';
import { personAt } from './session.ts';

function parsed(text: string | undefined): { value: unknown } | undefined {
  if (text === undefined || text === '') return { value: {} };
  try {
    const value: unknown = JSON.parse(text);
    return isTooDeep(value) ? undefined : { value };
  } catch {
    return undefined;
  }
}

/** Questions: what the books say, as the person may know it. */
export function questionRoutes(server: FastifyInstance, parts: ServerParts): void {
  // Threads of their own, so that a long calculation of the desk keeps no station waiting.
  const threads = new CalculationThreads();
  server.addHook('onClose', () => threads.close());
  const core = new Map(parts.coreQuestions.map((question) => [question.question, question]));
  server.get<{ Params: { question: string }; Querystring: { input?: string } }>(
    '/api/questions/:question',
    async (request, reply) => {
      const { question: name } = request.params;
      const question = core.get(name) ?? parts.registry.question(name);
      if (!question) return reply.code(404).send({ message: `There is no question ${name}.` });
      const input = parsed(request.query.input);
      if (!input) {
        const message = `The input is no JSON, or nested deeper than ${greatestNesting} levels.`;
        return reply.code(400).send({ message });
      }
      const good = question.input.safeParse(input.value ?? {});
      if (!good.success) {
        const problems = problemsOf(good.error, input.value).map((problem) => ({
          ...problem,
          value: problem.value === undefined ? null : problem.value,
        }));
        return reply.code(400).send({ message: 'The question is not put right.', problems });
      }
      const left = new AbortController();
      reply.raw.once('close', () => left.abort());
      try {
        return await question.answer(parts.books, good.data, {
          person: personAt(request).person,
          instant: new Date(parts.clock.now()).toISOString(),
          calculate: (id, calculated) => threads.output(id, calculated, left.signal),
        });
      } catch (error) {
        if (!(error instanceof CalculationStopped)) throw error;
        return reply.code(503).send({ message: error.message });
      }
    },
  );
}
