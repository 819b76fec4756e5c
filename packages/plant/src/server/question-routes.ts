import { problemsOf } from '@cupel/calculation';
import type { FastifyInstance } from 'fastify';
import { Fault } from '../journal/fault.ts';
import { CalculationStopped, CalculationThreads } from './calculation-threads.ts';
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

/** The output of a calculation; a station whose input is refused is at fault. */
async function outputOf(
  threads: CalculationThreads,
  { id, input }: { readonly id: string; readonly input: object },
  signal: AbortSignal,
): Promise<object> {
  const answer = await threads.run(id, input, signal);
  if (answer.outcome === 'computed') return answer.output as object;
  const [problem] = answer.problems;
  throw new Fault(`${id} refuses ${problem?.field}: ${problem?.accepted}`);
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
      if (!input) return reply.code(400).send({ message: 'The input is not JSON.' });
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
          calculate: (id, calculated) => outputOf(threads, { id, input: calculated }, left.signal),
        });
      } catch (error) {
        if (!(error instanceof CalculationStopped)) throw error;
        return reply.code(503).send({ message: error.message });
      }
    },
  );
}
