import canonicalize from 'canonicalize';
import type { Json } from '../../ports/json.ts';
import { differenceWords, firstDifference } from './first-difference.ts';
import type { RecordPayload } from './record.ts';
import type { CertificateCheck } from './verify-certificate.ts';
import type { Cryptography } from './web-cryptography.ts';

/** A record as it was read from a file; nothing of it is trusted yet. */
export interface ReadRecord {
  readonly content: Json | undefined;
  readonly payload: RecordPayload;
  readonly payloadText: string;
  readonly protectedText: string;
  readonly signature: Uint8Array;
  /** Raw key in base64url, as the header of the signature names it. */
  readonly publicKey: string;
  readonly algorithm: string;
}

const utf8 = new TextEncoder();
const strictUtf8 = new TextDecoder('utf-8', { fatal: true });

function bytesOfBase64url(text: string): Uint8Array {
  if (!/^[A-Za-z0-9_-]*$/.test(text)) throw new RangeError('text is not in base64url');
  const binary = atob(text.replace(/-/g, '+').replace(/_/g, '/'));
  return Uint8Array.from(binary, (character) => character.charCodeAt(0));
}

function bytesOfHex(text: string): Uint8Array {
  if (!/^([0-9a-f]{2})*$/.test(text)) throw new RangeError('text is not hexadecimal');
  return Uint8Array.from(text.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
}

const hexOfBytes = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');

/** Reads the parts of a record file, or says why they cannot be read. */
export function readRecord(text: string): ReadRecord | { readonly problem: string } {
  try {
    const file = JSON.parse(text) as Record<string, unknown>;
    const parts = [file.payload, file.protected, file.signature];
    const [payloadText, protectedText, signature] = parts;
    if (
      typeof payloadText !== 'string' ||
      typeof protectedText !== 'string' ||
      typeof signature !== 'string'
    ) {
      return { problem: 'The file holds no payload, protected header and signature.' };
    }
    const header = JSON.parse(strictUtf8.decode(bytesOfBase64url(protectedText))) as {
      alg?: unknown;
      jwk?: { x?: unknown };
    };
    return {
      content: file.content as Json | undefined,
      payload: JSON.parse(strictUtf8.decode(bytesOfBase64url(payloadText))) as RecordPayload,
      payloadText,
      protectedText,
      signature: bytesOfBase64url(signature),
      publicKey: String(header.jwk?.x ?? ''),
      algorithm: String(header.alg ?? ''),
    };
  } catch (error) {
    return {
      problem: `The file cannot be read as a certificate record: ${(error as Error).message}.`,
    };
  }
}

interface RecordOptions {
  readonly cryptography: Cryptography;
  readonly publicKey?: string;
}

/** Runs a check; text that cannot even be decoded fails it instead of stopping the others. */
async function attempt(
  check: string,
  work: () => Promise<{ holds: boolean; words: string }>,
): Promise<CertificateCheck> {
  try {
    return { check, ...(await work()) };
  } catch (error) {
    return { check, holds: false, words: `It cannot be checked: ${(error as Error).message}.` };
  }
}

async function checkSignature(record: ReadRecord, options: RecordOptions) {
  if (record.algorithm !== 'EdDSA') {
    return { holds: false, words: `The signature is of the kind ${record.algorithm}, not EdDSA.` };
  }
  const holds = await options.cryptography.verifyEd25519({
    publicKey: bytesOfBase64url(record.publicKey),
    signature: record.signature,
    bytes: utf8.encode(`${record.protectedText}.${record.payloadText}`),
  });
  return holds
    ? { holds, words: `Signed with the key ${record.publicKey}.` }
    : { holds, words: 'The signature does not belong to this content: something was altered.' };
}

async function checkKey(record: ReadRecord, options: RecordOptions) {
  const { publicKey } = options;
  const head = record.payload.head.publicKey;
  if (head !== record.publicKey) {
    return { holds: false, words: `The head of the journal is signed with another key, ${head}.` };
  }
  if (publicKey !== undefined && publicKey !== record.publicKey) {
    return { holds: false, words: `The key is ${record.publicKey}; the plant's is ${publicKey}.` };
  }
  const words =
    publicKey === undefined
      ? `Record and journal are signed with the key ${head}. Hold it against the key that the plant has published.`
      : "The key is the plant's.";
  return { holds: true, words };
}

async function checkEntry(record: ReadRecord, options: RecordOptions) {
  const { entryText, entryHash } = record.payload;
  const hash = hexOfBytes(await options.cryptography.sha256(utf8.encode(entryText)));
  if (hash !== entryHash) {
    return { holds: false, words: `The entry gives the hash ${hash}, not ${entryHash}.` };
  }
  const entry = JSON.parse(entryText) as { number: number; kind: string; instant: string };
  if (canonicalize(entry) !== entryText) {
    return { holds: false, words: 'The entry is not in canonical form (RFC 8785).' };
  }
  if (entry.kind !== 'CertificateIssued') {
    return { holds: false, words: `The entry is of the kind ${entry.kind}; it issues nothing.` };
  }
  const words = `Entry ${entry.number} of ${entry.instant} has the hash ${hash}.`;
  return { holds: true, words };
}

async function checkContent(record: ReadRecord) {
  const entry = JSON.parse(record.payload.entryText) as { body?: { content?: Json } };
  const difference = firstDifference(record.payload.content as Json, entry.body?.content);
  if (!difference) {
    return { holds: true, words: 'The content is what the entry of the journal says.' };
  }
  const words = differenceWords(difference, { left: 'the certificate', right: 'the entry' });
  return { holds: false, words: `The content is not that of the entry: ${words}.` };
}

async function hashOf(cryptography: Cryptography, hex: string): Promise<string> {
  return hexOfBytes(await cryptography.sha256(bytesOfHex(hex)));
}

/** The root that an entry and its siblings lead to: RFC 9162 section 2.1.3.2. */
async function rootOf(record: ReadRecord, cryptography: Cryptography): Promise<string | undefined> {
  const { entryHash, inclusion, head } = record.payload;
  let place = inclusion.number - 1;
  let last = head.statement.treeSize - 1;
  if (!Number.isSafeInteger(place) || place < 0 || place > last) return undefined;
  let hash = await hashOf(cryptography, `00${entryHash}`);
  for (const sibling of inclusion.proof) {
    if (last === 0) return undefined;
    const isRight = place % 2 === 1;
    hash = await hashOf(
      cryptography,
      isRight || place === last ? `01${sibling}${hash}` : `01${hash}${sibling}`,
    );
    // A right edge without a sibling of its own climbs until it is a right child.
    while (!isRight && place === last && place % 2 === 0 && place !== 0) {
      place = Math.floor(place / 2);
      last = Math.floor(last / 2);
    }
    place = Math.floor(place / 2);
    last = Math.floor(last / 2);
  }
  return last === 0 ? hash : undefined;
}

async function checkInclusion(record: ReadRecord, options: RecordOptions) {
  const { inclusion, head, entryText } = record.payload;
  const { number } = JSON.parse(entryText) as { number: number };
  if (number !== inclusion.number) {
    return { holds: false, words: `The proof is of entry ${inclusion.number}, not of ${number}.` };
  }
  const root = await rootOf(record, options.cryptography);
  const { treeSize, rootHash } = head.statement;
  return root === rootHash
    ? {
        holds: true,
        words: `Entry ${number} is one of the ${treeSize} that the signed head covers.`,
      }
    : { holds: false, words: `The proof leads to the root ${root}, not to ${rootHash}.` };
}

async function checkHead(record: ReadRecord, options: RecordOptions) {
  const { head } = record.payload;
  const holds = await options.cryptography.verifyEd25519({
    publicKey: bytesOfBase64url(head.publicKey),
    signature: bytesOfBase64url(head.signature),
    bytes: utf8.encode(canonicalize(head.statement) ?? ''),
  });
  const { treeSize, instant } = head.statement;
  return holds
    ? { holds, words: `The head of ${treeSize} entries of ${instant} is signed.` }
    : { holds, words: `The signature of the head of ${treeSize} entries is not good.` };
}

/** Checks everything about a record but the figures in it. */
export async function checkRecord(
  record: ReadRecord,
  options: RecordOptions,
): Promise<readonly CertificateCheck[]> {
  return [
    await attempt('signature', () => checkSignature(record, options)),
    await attempt('key', () => checkKey(record, options)),
    await attempt('content', () => checkContent(record)),
    await attempt('entry', () => checkEntry(record, options)),
    await attempt('inclusion', () => checkInclusion(record, options)),
    await attempt('head', () => checkHead(record, options)),
  ];
}
