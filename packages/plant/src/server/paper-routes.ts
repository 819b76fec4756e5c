import type { FastifyInstance } from 'fastify';
import type { SignedHead } from '../journal/head.ts';
import { inclusionProof } from '../journal/merkle.ts';
import type { EntryProof, PaperSources } from '../journal/station.ts';
import type { ServerParts } from './parts.ts';
import { personAt } from './session.ts';

/** Proof that an entry is in the journal, by the smallest signed head that covers it. */
async function proofOf(parts: ServerParts, number: number): Promise<EntryProof | undefined> {
  const line = await parts.reader.line(number);
  const stored = await parts.reader.headCovering(number);
  if (!line || !stored) return undefined;
  const { treeSize } = stored;
  return {
    entryText: line.text,
    entryHash: line.hash,
    head: JSON.parse(stored.text) as SignedHead,
    proof: await inclusionProof(parts.books, { number, treeSize }),
  };
}

/** What papers draw on. */
function paperSources(parts: ServerParts): PaperSources {
  return {
    books: parts.books,
    instant: new Date(parts.clock.now()).toISOString(),
    signer: parts.signer,
    proofOf: (entry) => proofOf(parts, entry),
  };
}

/** Papers: labels, receipts, certificates. */
export function paperRoutes(server: FastifyInstance, parts: ServerParts): void {
  server.get<{ Params: { paper: string; id: string } }>(
    '/api/papers/:paper/:id',
    async (request, reply) => {
      const { paper: name, id } = request.params;
      const paper = parts.registry.paper(name);
      if (!paper) return reply.code(404).send({ message: `There is no paper ${name}.` });
      const { roles } = personAt(request).person;
      if (paper.readableBy && !roles.some((role) => paper.readableBy?.includes(role))) {
        const message = `The ${paper.title} is read by the ${paper.readableBy.join(', the ')}.`;
        return reply.code(403).send({ message });
      }
      const made = await paper.render(paperSources(parts), id);
      if (!made) return reply.code(404).send({ message: `There is no ${paper.title} of ${id}.` });
      const fileName = made.fileName.replace(/[^A-Za-z0-9._-]/g, '_');
      // A drawing carries its own styles; a browser's PDF reader does not open in a sandbox.
      const sandbox = made.mediaType === 'application/pdf' ? '' : '; sandbox';
      const policy = `default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:${sandbox}`;
      return reply
        .header('content-security-policy', policy)
        .header('content-type', made.mediaType)
        .header('content-disposition', `inline; filename="${fileName}"`)
        .send(Buffer.from(made.bytes));
    },
  );
}
