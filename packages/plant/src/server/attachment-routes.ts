import type { MultipartFile } from '@fastify/multipart';
import type { FastifyInstance } from 'fastify';
import { refuseAtDoor } from './door-refusals.ts';
import type { ServerParts } from './parts.ts';

/** Photographs and documents beside the journal, found by the hash of their bytes. */
export function attachmentRoutes(server: FastifyInstance, parts: ServerParts): void {
  const { attachments } = parts;
  server.post('/api/attachments', async (request, reply) => {
    const refused = (message: string) =>
      reply.code(422).send({
        outcome: 'refused',
        refusals: [refuseAtDoor('FileNotAccepted', message, { field: 'file' })],
      });
    let file: MultipartFile | undefined;
    try {
      file = request.isMultipart() ? await request.file() : undefined;
    } catch {
      return refused('The parts of the request cannot be read; send the file once more.');
    }
    if (!file) return refused('No file came with the request.');
    let bytes: Buffer;
    try {
      bytes = await file.toBuffer();
    } catch {
      return refused(`The file is larger than ${attachments.greatestBytes} bytes.`);
    }
    const kept = await attachments.keep(bytes);
    if (!kept.kept) return refused(`${kept.why} Accepted: ${kept.accepted}.`);
    return { sha256: kept.sha256, mediaType: kept.mediaType };
  });

  server.get<{ Params: { sha256: string } }>('/api/attachments/:sha256', async (request, reply) => {
    const found = await attachments.find(request.params.sha256);
    if (!found) return reply.code(404).send({ message: 'There is no such file.' });
    const isPicture = found.mediaType.startsWith('image/');
    return reply
      .header('content-type', found.mediaType)
      .header('content-disposition', isPicture ? 'inline' : 'attachment')
      .header('content-security-policy', "default-src 'none'; sandbox")
      .header('cache-control', 'private, max-age=31536000, immutable')
      .send(Buffer.from(found.bytes));
  });
}
