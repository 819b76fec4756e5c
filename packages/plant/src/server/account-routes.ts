import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Command, Person } from '../journal/station.ts';
import { passwordProblem } from '../ports/accounts.ts';
import { refusalOfProof, refuseAtDoor } from './door-refusals.ts';
import type { ServerParts } from './parts.ts';
import { giveSession, personAt, takeSession } from './session.ts';

const secret = z.string().min(1).max(400);
const person = z.string().min(1).max(60);
const signInBody = z.strictObject({ person, password: secret });
const firstSignInBody = z.strictObject({ person, code: z.string().max(60), password: secret });
const codeBody = z.strictObject({ person, signature: z.strictObject({ password: secret }) });
const changeBody = z.strictObject({ password: secret, newPassword: secret });

/** Minutes after which an idle session ends: people who only read may sit longer. */
const idleMinutes = (who: Person): number => (who.roles.every((r) => r === 'auditor') ? 60 : 30);

/** At most this many sign-ins from one address in a minute. */
const signInLimit = { rateLimit: { max: 20, timeWindow: '1 minute' } };

function refused(reply: FastifyReply, refusal: ReturnType<typeof refuseAtDoor>) {
  return reply.code(422).send({ outcome: 'refused', refusals: [refusal] });
}

/** What the workbench shows of a command to a person. */
function describe(command: Command, who: Person) {
  const { title, signature, roles, witnessRoles = [] } = command;
  const allowed = roles.some((role) => who.roles.includes(role));
  return { title, signature, roles, witnessRoles, allowed };
}

/** Signing in and out, and the secrets with which people prove who they are. */
export function accountRoutes(server: FastifyInstance, parts: ServerParts): void {
  const { accounts } = parts;
  const wrongSignIn = {
    name: 'SignInNotGood',
    message: 'This name and this password do not belong together.',
    field: 'password',
  } as const;

  const enter = async (reply: FastifyReply, id: string) => {
    const who = await parts.person(parts.books, id);
    if (!who?.active) return refused(reply, refuseAtDoor('SignInNotGood', wrongSignIn.message));
    const token = accounts.openSession(id, idleMinutes(who));
    giveSession(reply, token, parts.isBehindHttps ?? false);
    return reply.send({ person: who.person });
  };

  server.post('/api/sign-in', { config: signInLimit }, async (request, reply) => {
    const body = signInBody.safeParse(request.body);
    if (!body.success) return refused(reply, refuseAtDoor('SignInNotGood', wrongSignIn.message));
    const proof = await accounts.check(body.data.person, body.data.password);
    const refusal = refusalOfProof(proof, wrongSignIn);
    if (refusal) return refused(reply, refusal);
    return enter(reply, body.data.person);
  });

  server.post('/api/first-sign-in', { config: signInLimit }, async (request, reply) => {
    const body = firstSignInBody.safeParse(request.body);
    if (!body.success) return refused(reply, refuseAtDoor('SignInNotGood', wrongSignIn.message));
    const problem = passwordProblem(body.data.person, body.data.password);
    if (problem) {
      return refused(reply, refuseAtDoor('PasswordTooWeak', problem, { field: 'password' }));
    }
    const proof = await accounts.redeemCode(body.data);
    const message =
      'This name and this one-time code do not belong together, or the code has run out.';
    const refusal = refusalOfProof(proof, { ...wrongSignIn, message, field: 'code' });
    if (refusal) return refused(reply, refusal);
    return enter(reply, body.data.person);
  });

  server.post('/api/sign-out', async (request, reply) => {
    accounts.closeSession(personAt(request).sessionToken);
    takeSession(reply);
    return { signedOut: true };
  });

  server.get('/api/session', async (request) => {
    const { person: who, changeToken } = personAt(request);
    const commands = parts.registry.stations.flatMap((station) => station.commands);
    return {
      person: { person: who.person, name: who.name, roles: who.roles },
      plant: parts.plant,
      plantTitle: await parts.plantTitle(),
      token: changeToken,
      stations: parts.registry.stations.map(({ station, title }) => ({ station, title })),
      commands: Object.fromEntries(commands.map((item) => [item.command, describe(item, who)])),
    };
  });

  server.post('/api/one-time-codes', { config: signInLimit }, async (request, reply) => {
    const { person: author } = personAt(request);
    const body = codeBody.safeParse(request.body);
    if (!body.success || !author.roles.includes('chief assayer')) {
      return reply.code(403).send({ message: 'Only the chief assayer gives one-time codes.' });
    }
    const refusal = refusalOfProof(
      await accounts.check(author.person, body.data.signature.password),
      {
        name: 'SignatureNotGood',
        message: `This is not the password of ${author.name}.`,
        field: 'signature',
      },
    );
    if (refusal) return refused(reply, refusal);
    const enrolled = await parts.person(parts.books, body.data.person);
    if (!enrolled?.active) {
      return reply.code(404).send({ message: `${body.data.person} is not enrolled.` });
    }
    const { code, until } = await accounts.makeCode(enrolled.person);
    return { code, until: new Date(until).toISOString() };
  });

  server.post('/api/change-password', { config: signInLimit }, async (request, reply) => {
    const { person: who, sessionToken } = personAt(request);
    const body = changeBody.safeParse(request.body);
    if (!body.success) return reply.code(400).send({ message: 'Both passwords are needed.' });
    const refusal = refusalOfProof(await accounts.check(who.person, body.data.password), {
      name: 'SignatureNotGood',
      message: `This is not the password of ${who.name}.`,
      field: 'password',
    });
    if (refusal) return refused(reply, refusal);
    const problem = passwordProblem(who.person, body.data.newPassword);
    if (problem) {
      return refused(reply, refuseAtDoor('PasswordTooWeak', problem, { field: 'newPassword' }));
    }
    await accounts.setPassword(who.person, body.data.newPassword);
    accounts.closeSessionsOf(who.person, sessionToken);
    return { changed: true };
  });
}
