import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { JsonObject } from '../ports/json.ts';
import type { KeptSheets, SheetName } from '../ports/kept-sheets.ts';
import { refuseAtDoor } from './door-refusals.ts';
import type { ServerParts } from './parts.ts';
import { personAt } from './session.ts';

const nameQuery = z.strictObject({
  /** Whose sheet the page believes it is; a page may outlive the session of its person. */
  person: z.string(),
  thing: z.string().min(1).max(120),
});

const sheetBody = z.strictObject({
  /** The revision that it rests on; 0 for a new sheet. */
  revision: z.int().min(0),
  value: z.record(z.string(), z.json()),
});

type SheetRequest = FastifyRequest<{ Params: { command: string } }>;

/**
 * Half-filled sheets: what a person has typed for a command and not recorded yet. It is kept by the
 * server, so that it is there on return, on whatever device. Nobody reads the sheet of another; that
 * it is kept is told to those who may ask for the same command.
 */
export function sheetRoutes(server: FastifyInstance, parts: ServerParts): void {
  const { sheets } = parts;
  if (!sheets) return;
  server.get('/api/sheets', async (request) => ({ sheets: await listedFor(request, parts) }));
  const path = '/api/sheets/:command';
  server.get<{ Params: { command: string } }>(path, async (request, reply) => {
    const name = nameOf(request, reply, parts);
    return name ? { sheet: sheets.find(name) ?? null } : reply;
  });

  server.put<{ Params: { command: string } }>(path, async (request, reply) => {
    const name = nameOf(request, reply, parts);
    if (!name) return reply;
    const body = sheetBody.safeParse(request.body);
    if (!body.success) {
      const [issue] = body.error.issues;
      return reply.code(400).send({ message: `${issue?.path.join('.')}: ${issue?.message}` });
    }
    return answerKept(reply, sheets, name, body.data as { revision: number; value: JsonObject });
  });

  server.delete<{ Params: { command: string } }>(path, async (request, reply) => {
    const name = nameOf(request, reply, parts);
    if (!name) return reply;
    sheets.forget(name);
    return { sheet: null };
  });
}

/** The sheets that are kept of commands that the person may ask for, and whose they are. */
async function listedFor(
  request: FastifyRequest,
  { sheets, registry, person, books }: ServerParts,
) {
  const asks = personAt(request).person;
  const listed = [];
  for (const line of sheets?.lines() ?? []) {
    const command = registry.command(line.command);
    if (!command?.roles.some((role) => asks.roles.includes(role))) continue;
    const name = (await person(books, line.person))?.name ?? line.person;
    const isOwn = line.person === asks.person;
    listed.push({ ...line, name, title: command.title, isOwn });
  }
  return listed;
}

/** Which sheet is meant; a person keeps sheets only of commands that he may ask for. */
function nameOf(
  request: SheetRequest,
  reply: FastifyReply,
  parts: ServerParts,
): SheetName | undefined {
  const command = parts.registry.command(request.params.command);
  const query = nameQuery.safeParse(request.query);
  const { person, roles } = personAt(request).person;
  if (!command) {
    reply.code(404).send({ message: `There is no command ${request.params.command}.` });
    return undefined;
  }
  if (!query.success) {
    reply.code(400).send({ message: 'person, and thing: a text of 1 to 120 characters' });
    return undefined;
  }
  if (query.data.person !== person) {
    reply.code(403).send({ message: `The sheet is of ${query.data.person}.` });
    return undefined;
  }
  if (!command.roles.some((role) => roles.includes(role))) {
    reply.code(403).send({ message: `${command.title} is done by: ${command.roles.join(', ')}.` });
    return undefined;
  }
  return { person, command: command.command, thing: query.data.thing };
}

function answerKept(
  reply: FastifyReply,
  sheets: KeptSheets,
  name: SheetName,
  sheet: { readonly revision: number; readonly value: JsonObject },
) {
  const kept = sheets.keep(name, sheet);
  switch (kept.outcome) {
    case 'kept':
      return { revision: kept.revision, keptAt: kept.keptAt };
    case 'changed elsewhere':
      return reply.code(409).send({ sheet: kept.sheet ?? null });
    case 'too large': {
      const message = `The sheet has ${kept.bytes} bytes; at most ${kept.greatestBytes} are kept.`;
      return reply
        .code(422)
        .send({ outcome: 'refused', refusals: [refuseAtDoor('SheetTooLarge', message)] });
    }
  }
}
