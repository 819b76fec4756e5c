import { createHash, randomBytes } from 'node:crypto';
import { mkdir, open, readFile, rename, stat, unlink } from 'node:fs/promises';
import { join } from 'node:path';
import {
  type Attachment,
  type Attachments,
  type AttachmentType,
  attachmentTypes,
  type Kept,
} from '../ports/attachments.ts';

const mebibyte = 1024 * 1024;

/** The greatest file of each type, in bytes. */
const limits: Readonly<Record<AttachmentType, number>> = {
  'image/jpeg': 12 * mebibyte,
  'image/png': 12 * mebibyte,
  'image/webp': 12 * mebibyte,
  'application/pdf': 16 * mebibyte,
  'text/csv': 4 * mebibyte,
  'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet': 8 * mebibyte,
};

const accepted = `one of ${attachmentTypes.join(', ')}; at most 12 MiB for pictures, 16 MiB for PDF, 4 MiB for CSV, 8 MiB for XLSX`;

function startsWith(bytes: Uint8Array, signature: readonly number[], at = 0): boolean {
  return signature.every((byte, index) => bytes[at + index] === byte);
}

function isText(bytes: Uint8Array): boolean {
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    // Control characters other than tab and line ends do not stand in a list.
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
    return text.trim() !== '' && !/[\0-\x08\x0b\x0c\x0e-\x1f]/.test(text) && /[,;\t]/.test(text);
  } catch {
    return false;
  }
}

/** A workbook is a zip archive that names its first sheet or its parts in the open. */
function isWorkbook(bytes: Uint8Array): boolean {
  if (!startsWith(bytes, [0x50, 0x4b, 0x03, 0x04])) return false;
  const names = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return names.includes('[Content_Types].xml') && names.includes('xl/workbook.xml');
}

/** Tells the type by the first bytes of the file, never by its name. */
export function attachmentTypeOf(bytes: Uint8Array): AttachmentType | undefined {
  if (startsWith(bytes, [0xff, 0xd8, 0xff])) return 'image/jpeg';
  if (startsWith(bytes, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return 'image/png';
  // RIFF, four bytes of length, WEBP.
  if (
    startsWith(bytes, [0x52, 0x49, 0x46, 0x46]) &&
    startsWith(bytes, [0x57, 0x45, 0x42, 0x50], 8)
  ) {
    return 'image/webp';
  }
  if (startsWith(bytes, [0x25, 0x50, 0x44, 0x46, 0x2d])) return 'application/pdf';
  if (isWorkbook(bytes)) {
    return 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';
  }
  return isText(bytes) ? 'text/csv' : undefined;
}

async function syncFolder(path: string): Promise<void> {
  const folder = await open(path, 'r');
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}

/** Writes aside, makes it durable, then gives it its name: a file of that name is always whole. */
async function writeWhole(folder: string, name: string, bytes: Uint8Array): Promise<void> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const aside = join(folder, `.${name}.${randomBytes(6).toString('hex')}`);
  const file = await open(aside, 'wx', 0o600);
  try {
    await file.writeFile(bytes);
    await file.sync();
  } catch (error) {
    await file.close();
    await unlink(aside).catch(() => undefined);
    throw error;
  }
  await file.close();
  await rename(aside, join(folder, name));
  await syncFolder(folder);
  await syncFolder(join(folder, '..'));
}

/** Files in a folder, each named by the hash of its bytes. */
export class FolderAttachments implements Attachments {
  readonly greatestBytes = Math.max(...Object.values(limits));
  readonly #root: string;

  constructor(folder: string) {
    this.#root = folder;
  }

  async keep(bytes: Uint8Array): Promise<Kept> {
    const mediaType = attachmentTypeOf(bytes);
    if (!mediaType) {
      return { kept: false, why: 'The file is of no type that is kept.', accepted };
    }
    if (bytes.length > limits[mediaType]) {
      const why = `The file has ${bytes.length} bytes; a ${mediaType} may have ${limits[mediaType]}.`;
      return { kept: false, why, accepted };
    }
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const folder = this.#folderOf(sha256);
    const isThere = await stat(join(folder, sha256)).then(
      () => true,
      () => false,
    );
    if (!isThere) await writeWhole(folder, sha256, bytes);
    return { kept: true, sha256, mediaType };
  }

  async find(sha256: string): Promise<Attachment | undefined> {
    if (!/^[0-9a-f]{64}$/.test(sha256)) return undefined;
    let bytes: Buffer;
    try {
      bytes = await readFile(join(this.#folderOf(sha256), sha256));
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
      throw error;
    }
    const mediaType = attachmentTypeOf(bytes);
    const isWhole = createHash('sha256').update(bytes).digest('hex') === sha256;
    if (!mediaType || !isWhole) throw new Error(`the attachment ${sha256} is not what it was`);
    return { sha256, mediaType, bytes };
  }

  #folderOf(sha256: string): string {
    return join(this.#root, sha256.slice(0, 2));
  }
}
