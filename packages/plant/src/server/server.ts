import cookie from '@fastify/cookie';
import helmet from '@fastify/helmet';
import multipart from '@fastify/multipart';
import rateLimit from '@fastify/rate-limit';
import fastify, { type FastifyInstance, type FastifyRequest } from 'fastify';
import { accountRoutes } from './account-routes.ts';
import { attachmentRoutes } from './attachment-routes.ts';
import { calculationRoutes } from './calculation-routes.ts';
import { commandRoutes } from './command-routes.ts';
import { refuseAtDoor } from './door-refusals.ts';
import { eventRoutes } from './event-routes.ts';
import { instrumentRoutes } from './instrument-routes.ts';
import { greatestNesting, isTooDeep } from './nesting.ts';
import { paperRoutes } from './paper-routes.ts';
import type { ServerParts } from './parts.ts';
import { questionRoutes } from './question-routes.ts';
import { carriesToken, signedInBy } from './session.ts';
import { sheetRoutes } from './sheet-routes.ts';
import { workbenchRoutes } from './workbench-routes.ts';

const megabyte = 1024 * 1024;

/** Routes of the interface that answer without a session. */
const openRoutes = ['/api/sign-in', '/api/first-sign-in', '/api/health'];

/** The plant's server: the interface under `/api`, and the workbench. */
export async function makeServer(parts: ServerParts): Promise<FastifyInstance> {
  const server = fastify({
    bodyLimit: 2 * megabyte,
    logger: logging(parts.log ?? 'faults'),
    forceCloseConnections: true,
  });
  await server.register(cookie);
  await server.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        fontSrc: ["'self'"],
        imgSrc: ["'self'"],
        connectSrc: ["'self'"],
        baseUri: ["'none'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
      },
    },
    strictTransportSecurity: parts.isBehindHttps ? { maxAge: 31_536_000 } : false,
    referrerPolicy: { policy: 'no-referrer' },
  });
  await server.register(rateLimit, { global: false });
  await server.register(multipart, {
    limits: { fileSize: parts.attachments.greatestBytes, files: 1 },
  });
  guard(server, parts);
  refuseNesting(server);
  handleErrors(server);
  server.get('/api/health', async () => ({ plant: parts.plant, state: 'serving' }));
  accountRoutes(server, parts);
  commandRoutes(server, parts);
  questionRoutes(server, parts);
  calculationRoutes(server);
  paperRoutes(server, parts);
  attachmentRoutes(server, parts);
  instrumentRoutes(server, parts);
  sheetRoutes(server, parts);
  eventRoutes(server, parts);
  await workbenchRoutes(server, parts);
  return server;
}

function logging(log: NonNullable<ServerParts['log']>) {
  if (log === 'nothing') return false;
  const redact = ['req.headers.cookie', 'req.headers["x-cupel-token"]'];
  return { level: log === 'requests' ? 'info' : 'error', redact };
}

/** Whether the browser says that another site's page sent the request. */
function comesFromElsewhere(request: FastifyRequest): boolean {
  const site = request.headers['sec-fetch-site'];
  return site !== undefined && site !== 'same-origin';
}

/**
 * Lets nobody in without a session, and no change without the session's token. It goes by the route
 * that was found, not by the address as it was written, which has many spellings.
 */
function guard(server: FastifyInstance, parts: ServerParts): void {
  server.decorateRequest('signedIn', undefined);
  server.addHook('onRequest', async (request, reply) => {
    const route = request.routeOptions.url ?? '';
    if (request.is404 || !route.startsWith('/api/')) return;
    reply.header('cache-control', 'no-store');
    const isChange = request.method !== 'GET' && request.method !== 'HEAD';
    if (isChange && comesFromElsewhere(request)) {
      return reply.code(403).send({ message: 'The change comes from a page of another site.' });
    }
    if (openRoutes.includes(route)) return;
    const signedIn = await signedInBy(request, parts);
    if (!signedIn) {
      return reply
        .code(401)
        .send({ message: 'Nobody is signed in.', plantTitle: await parts.plantTitle() });
    }
    if (isChange && !carriesToken(request, signedIn)) {
      const message = 'The change does not carry the token of its session; load the page again.';
      return reply.code(403).send({ message });
    }
    request.signedIn = signedIn;
  });
}

/** Keeps requests out whose depth alone would break what walks through them. */
function refuseNesting(server: FastifyInstance): void {
  server.addHook('preValidation', async (request, reply) => {
    if (!isTooDeep(request.body)) return;
    const message = `The request is nested deeper than ${greatestNesting} levels; no act needs more.`;
    return reply.code(400).send({ message });
  });
}

/** What a person may be told of an error: never its inside. */
function handleErrors(server: FastifyInstance): void {
  server.setErrorHandler<Error & { statusCode?: number }>((error, request, reply) => {
    const status = error.statusCode ?? 500;
    if (status === 429) {
      const message = 'Too many attempts came from this address within a minute.';
      const refusals = [refuseAtDoor('TooManyAttempts', message)];
      return reply.code(429).send({ outcome: 'refused', message, refusals });
    }
    if (status < 500) return reply.code(status).send({ message: error.message });
    request.log.error(error);
    const message =
      'The plant’s program made an error. Nothing of this was recorded; tell whoever looks after it.';
    return reply.code(500).send({ message });
  });
}
