import { existsSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';
import type { ServerParts } from './parts.ts';

/** The workbench: its files, and its one page for every path that is not the interface's. */
export async function workbenchRoutes(server: FastifyInstance, parts: ServerParts): Promise<void> {
  const folder = parts.workbenchFolder;
  if (folder && existsSync(join(folder, 'index.html'))) {
    await server.register(fastifyStatic, {
      root: folder,
      wildcard: false,
      preCompressed: true,
      setHeaders: (reply, path) => {
        // The names of the built files follow from their content; the page itself must be asked for.
        const isNamedByContent = path.includes('/assets/');
        const control = isNamedByContent ? 'public, max-age=31536000, immutable' : 'no-cache';
        reply.header('cache-control', control);
      },
    });
  }
  server.setNotFoundHandler((request, reply) => {
    const isPage = request.method === 'GET' && !/^\/(api|assets)\//.test(request.url);
    if (isPage && folder && existsSync(join(folder, 'index.html'))) {
      return reply.header('cache-control', 'no-cache').sendFile('index.html');
    }
    return reply.code(404).send({ message: `There is nothing at ${request.url.split('?')[0]}.` });
  });
}
