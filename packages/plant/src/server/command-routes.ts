import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Outcome } from '../journal/recorder.ts';
import type { Refusal } from '../journal/refusal.ts';
import type { Command, Person } from '../journal/station.ts';
import { refusalOfProof } from './door-refusals.ts';
import type { ServerParts } from './parts.ts';
import { receivedRefusals } from './received-readings.ts';
import { personAt } from './session.ts';

const secret = z.string().max(400);

const commandBody = z.strictObject({
  /** Idempotency key: the same key is recorded once. */
  key: z.string().regex(/^[A-Za-z0-9_-]{8,100}$/),
  input: z.unknown(),
  signature: z.strictObject({ password: secret }).optional(),
  witness: z.strictObject({ person: z.string().min(1).max(60), password: secret }).optional(),
});

type CommandBody = z.infer<typeof commandBody>;

/** Whether the secrets that came with a command prove its people. */
async function prove(
  parts: ServerParts,
  options: { command: Command; body: CommandBody; author: Person },
): Promise<{ refusal: Refusal } | { signed: boolean; witness: string | undefined }> {
  const { command, body, author } = options;
  if (command.signature === 'none') return { signed: false, witness: undefined };
  if (body.signature) {
    const refusal = refusalOfProof(
      await parts.accounts.check(author.person, body.signature.password),
      {
        name: 'SignatureNotGood',
        message: `This is not the password of ${author.name}.`,
        field: 'signature.password',
      },
    );
    if (refusal) return { refusal };
  }
  const signed = body.signature !== undefined;
  if (command.signature === 'author' || !body.witness) return { signed, witness: undefined };
  const { person, password } = body.witness;
  const refusal = refusalOfProof(await parts.accounts.check(person, password), {
    name: 'WitnessNotGood',
    message: `This is not the password of ${person}.`,
    field: 'witness.password',
  });
  return refusal ? { refusal } : { signed, witness: person };
}

/** What the author is told of an outcome. */
function told(outcome: Outcome) {
  if (outcome.outcome === 'refused') return outcome;
  const entries = outcome.entries.map(({ number, kind, station, instant }) => ({
    number,
    kind,
    station,
    instant,
  }));
  return { outcome: 'recorded', entries, repeated: outcome.repeated, answer: outcome.answer };
}

/** Commands: everything that changes the record goes through this one door. */
export function commandRoutes(server: FastifyInstance, parts: ServerParts): void {
  server.get<{ Params: { command: string } }>('/api/commands/:command', async (request, reply) => {
    const command = parts.registry.command(request.params.command);
    if (!command) {
      return reply.code(404).send({ message: `There is no command ${request.params.command}.` });
    }
    const { command: name, station, title, signature, roles } = command;
    const input = z.toJSONSchema(command.input, { io: 'input', unrepresentable: 'any' });
    return { command: name, station, title, signature, roles, input };
  });

  server.post<{ Params: { command: string } }>('/api/commands/:command', async (request, reply) => {
    const command = parts.registry.command(request.params.command);
    if (!command) {
      return reply.code(404).send({ message: `There is no command ${request.params.command}.` });
    }
    const body = commandBody.safeParse(request.body);
    if (!body.success) {
      const [issue] = body.error.issues;
      const message = `${issue?.path.join('.') || 'body'}: ${issue?.message}`;
      return reply.code(400).send({ message });
    }
    const { person: author } = personAt(request);
    const proved = await prove(parts, { command, body: body.data, author });
    if ('refusal' in proved) {
      return reply.code(422).send({ outcome: 'refused', refusals: [proved.refusal] });
    }
    const made = await receivedRefusals(body.data.input, {
      lines: parts.instrumentLines,
      measures: async (instrument) => parts.measures?.(instrument),
      until: new Date(parts.clock.now()).toISOString(),
    });
    if (made.length > 0) return reply.code(422).send({ outcome: 'refused', refusals: made });
    const outcome = await parts.recorder.record({
      command: command.command,
      input: body.data.input,
      idempotencyKey: body.data.key,
      author: author.person,
      signed: proved.signed,
      ...(proved.witness === undefined ? {} : { witness: proved.witness }),
    });
    return reply.code(outcome.outcome === 'recorded' ? 200 : 422).send(told(outcome));
  });
}
