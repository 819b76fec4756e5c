import type { ReadableStore, StoredLine } from '../ports/store.ts';
import { bookReader } from './books.ts';
import { canonicalText, type Entry, entryHash, genesisHash, isCanonical } from './entry.ts';
import type { SignedHead } from './head.ts';
import { emptyTreeHash, leafHash, merkleNodes, nodeHash, rootHash } from './merkle.ts';
import type { Registry } from './plant.ts';
import { assertPosting } from './posting.ts';

/** What a check of the journal found. */
export type Verification =
  | {
      readonly holds: true;
      readonly entries: number;
      readonly headHash: string;
      readonly rootHash: string;
      readonly headsChecked: number;
      /** How many entries, from the first, stand under a signed head. */
      readonly entriesSigned: number;
    }
  | { readonly holds: false; readonly entry: number; readonly why: string };

/** Checks a signature over bytes: public key and signature in base64url. */
export type CheckSignature = (options: {
  publicKey: string;
  signature: string;
  bytes: Uint8Array;
}) => boolean;

/** What the journal is held against. */
export interface VerificationOptions {
  readonly registry: Registry;
  readonly checkSignature: CheckSignature;
  /** The plant's own key; when it is left out, any key may have signed the heads. */
  readonly publicKey?: string;
}

/**
 * A Merkle tree kept as its right edge only: the sizes and hashes of the whole subtrees from the
 * left. It shares no way of building with the tree that the books keep, so that each checks the other.
 */
class Edge {
  readonly #subtrees: { size: number; hash: string }[] = [];

  add(entry: string): void {
    let subtree = { size: 1, hash: leafHash(entry) };
    while (this.#subtrees.at(-1)?.size === subtree.size) {
      const left = this.#subtrees.pop() as { size: number; hash: string };
      subtree = { size: left.size * 2, hash: nodeHash(left.hash, subtree.hash) };
    }
    this.#subtrees.push(subtree);
  }

  root(): string {
    const root = this.#subtrees.reduceRight<string | undefined>(
      (right, { hash }) => (right === undefined ? hash : nodeHash(hash, right)),
      undefined,
    );
    return root ?? emptyTreeHash;
  }
}

/** Where a line should stand. */
interface Expected {
  readonly number: number;
  readonly previousHash: string;
  readonly plant: string;
  readonly registry: Registry;
}

/** Why an entry does not belong where it stands; nothing when it does. */
function faultOf(line: StoredLine, expected: Expected): string | undefined {
  if (line.number !== expected.number) return `entry ${expected.number} is missing`;
  if (entryHash(line.text) !== line.hash) return 'its text does not give its hash';
  let entry: Entry;
  try {
    entry = JSON.parse(line.text) as Entry;
    if (!isCanonical(line.text, entry)) return 'its text is not in canonical form';
  } catch {
    return 'its text is not JSON that has a canonical form';
  }
  if (typeof entry !== 'object' || entry === null) return 'its text is not that of an entry';
  if (entry.number !== line.number) return `it says that it is entry ${entry.number}`;
  if (entry.plant !== expected.plant) return `it belongs to plant ${entry.plant}`;
  if (entry.previousHash !== expected.previousHash) return 'it does not follow the entry before it';
  return postingFault(entry, expected.registry);
}

function postingFault(entry: Entry, registry: Registry): string | undefined {
  const kind = registry.kind(entry.kind);
  if (!kind) return `no station knows the kind ${entry.kind}`;
  try {
    for (const posting of entry.postings) assertPosting(posting);
    const declared = kind.postings === 'moves nothing' ? [] : kind.postings(entry.body);
    if (canonicalText(declared) !== canonicalText(entry.postings)) {
      return 'its postings are not those that its kind declares';
    }
  } catch (error) {
    return `its postings cannot be read: ${(error as Error).message}`;
  }
  return undefined;
}

/** How many lines are read at once. */
const pageLines = 1000;

/**
 * Checks the whole journal: every hash, every link, every posting, every signed head against the
 * tree of the entries, and that tree against the one the books keep. Names the first entry at
 * which something is wrong. Holds one page of lines at a time.
 */
export async function verifyJournal(
  store: ReadableStore,
  options: VerificationOptions,
): Promise<Verification> {
  const heads = new Map((await store.reader.heads()).map((head) => [head.treeSize, head.text]));
  const entriesSigned = Math.max(0, ...heads.keys());
  const { plant, reader } = store;
  const edge = new Edge();
  let previousHash = genesisHash;
  let number = 0;
  for (;;) {
    const lines = await reader.lines(number + 1, number + 1 + pageLines);
    for (const line of lines) {
      const place = { number: number + 1, previousHash, plant, registry: options.registry };
      const why = faultOf(line, place);
      if (why) return { holds: false, entry: place.number, why };
      number += 1;
      previousHash = line.hash;
      edge.add(line.hash);
      const head = heads.get(number);
      if (head === undefined) continue;
      const expected = { plant, treeSize: number, rootHash: edge.root() };
      const headFault = checkHead(head, expected, options);
      if (headFault) return { holds: false, entry: number, why: headFault };
    }
    if (lines.length < pageLines) break;
  }
  const why = await tailFault(store, { number, entriesSigned, root: edge.root() });
  if (why) return { holds: false, ...why };
  return {
    holds: true,
    entries: number,
    headHash: previousHash,
    rootHash: edge.root(),
    headsChecked: heads.size,
    entriesSigned,
  };
}

/** What only the end of the journal can show: a cut, or books that keep another tree. */
async function tailFault(
  store: ReadableStore,
  end: { number: number; entriesSigned: number; root: string },
): Promise<{ entry: number; why: string } | undefined> {
  const { number, entriesSigned, root } = end;
  if (entriesSigned > number) {
    const why = `a head of ${entriesSigned} entries is signed, but the journal ends before it`;
    return { entry: number + 1, why };
  }
  const books = bookReader(store.reader);
  const kept = await rootHash(books, number).catch(() => undefined);
  if (kept !== root) {
    const why = 'the books keep another tree of the entries than the journal gives';
    return { entry: number, why };
  }
  const next = await books.get(merkleNodes, 0, number);
  return next && { entry: number + 1, why: 'the books know it, but the journal ends before it' };
}

function checkHead(
  text: string,
  expected: { plant: string; treeSize: number; rootHash: string },
  options: VerificationOptions,
): string | undefined {
  try {
    const { statement, publicKey, signature } = JSON.parse(text) as SignedHead;
    if (statement.plant !== expected.plant || statement.treeSize !== expected.treeSize) {
      return 'the signed head of the tree is that of another tree';
    }
    if (statement.rootHash !== expected.rootHash) {
      return 'the signed head of the tree does not cover it';
    }
    if (options.publicKey !== undefined && publicKey !== options.publicKey) {
      return 'the head of the tree is signed with another key';
    }
    const bytes = Buffer.from(canonicalText(statement));
    const good = options.checkSignature({ publicKey, signature, bytes });
    return good ? undefined : 'the signature of the head of the tree is not good';
  } catch {
    return 'the signed head of the tree cannot be read';
  }
}
