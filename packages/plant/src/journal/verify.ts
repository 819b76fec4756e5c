import type { Store } from '../ports/store.ts';
import { canonicalText, type Entry, entryHash, genesisHash } from './entry.ts';
import type { SignedHead } from './head.ts';
import { emptyTreeHash, leafHash, nodeHash } from './merkle.ts';
import { assertPosting } from './posting.ts';
import type { Registry } from './plant.ts';

/** What a check of the journal found. */
export type Verification =
  | {
      readonly holds: true;
      readonly entries: number;
      readonly headHash: string;
      readonly rootHash: string;
      readonly headsChecked: number;
    }
  | { readonly holds: false; readonly entry: number; readonly why: string };

/** Checks a signature over bytes: public key and signature in base64url. */
export type CheckSignature = (options: {
  publicKey: string;
  signature: string;
  bytes: Uint8Array;
}) => boolean;

/**
 * A Merkle tree kept as its right edge only: the sizes and hashes of the whole subtrees from the
 * left. It shares no code with the tree that the books keep, so that each checks the other.
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
    return this.#subtrees.reduceRight<string | undefined>(
      (right, { hash }) => (right === undefined ? hash : nodeHash(hash, right)),
      undefined,
    ) ?? emptyTreeHash;
  }
}

/** Why an entry does not belong where it stands; nothing when it does. */
function faultOf(
  line: { number: number; text: string; hash: string },
  expected: { number: number; previousHash: string; plant: string; registry: Registry },
): string | undefined {
  if (line.number !== expected.number) return `entry ${expected.number} is missing`;
  if (entryHash(line.text) !== line.hash) return 'its text does not give its hash';
  let entry: Entry;
  try {
    entry = JSON.parse(line.text) as Entry;
  } catch {
    return 'its text is not JSON';
  }
  if (canonicalText(entry) !== line.text) return 'its text is not in canonical form';
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
    return (error as Error).message;
  }
  return undefined;
}

/**
 * Checks the whole journal: every hash, every link, every posting, and every signed head against
 * the tree of the entries. Names the first entry at which something is wrong.
 */
export async function verifyJournal(
  store: Store,
  options: { registry: Registry; checkSignature: CheckSignature; publicKey?: string },
): Promise<Verification> {
  const heads = new Map((await store.reader.heads()).map((head) => [head.treeSize, head.text]));
  const lastHead = Math.max(0, ...heads.keys());
  const edge = new Edge();
  let previousHash = genesisHash;
  let number = 0;
  for (;;) {
    const lines = await store.reader.lines(number + 1, number + 1001);
    for (const line of lines) {
      const expected = { number: number + 1, previousHash, plant: store.plant, ...options };
      const why = faultOf(line, expected);
      if (why) return { holds: false, entry: number + 1, why };
      number += 1;
      previousHash = line.hash;
      edge.add(line.hash);
      const head = heads.get(number);
      const headFault = head === undefined ? undefined : checkHead(head, edge.root(), options);
      if (headFault) return { holds: false, entry: number, why: headFault };
    }
    if (lines.length < 1000) break;
  }
  if (lastHead > number) {
    const why = `a head of ${lastHead} entries is signed, but the journal ends before it`;
    return { holds: false, entry: number + 1, why };
  }
  return {
    holds: true,
    entries: number,
    headHash: previousHash,
    rootHash: edge.root(),
    headsChecked: heads.size,
  };
}

function checkHead(
  text: string,
  root: string,
  options: { checkSignature: CheckSignature; publicKey?: string },
): string | undefined {
  const head = JSON.parse(text) as SignedHead;
  if (head.statement.rootHash !== root) return 'the signed head of the tree does not cover it';
  if (options.publicKey !== undefined && head.publicKey !== options.publicKey) {
    return 'the head of the tree is signed with another key';
  }
  const bytes = Buffer.from(canonicalText(head.statement));
  const good = options.checkSignature({ ...head, bytes });
  return good ? undefined : 'the signature of the head of the tree is not good';
}
