import { hash as hashOnce } from 'node:crypto';
import { type BookReader, type BookWriter, defineBook } from './books.ts';
import { invariant } from './fault.ts';

/**
 * The Merkle tree over the entry hashes, after RFC 9162 section 2.1: a leaf hashes 0x00 and the
 * 32 bytes of the entry hash, a node hashes 0x01 and its two children. Only whole subtrees are
 * kept; the right edge is computed when it is asked for.
 */
export const merkleNodes = defineBook<{ level: number; place: number; hash: string }>({
  name: 'core_merkle_node',
  meaning: 'The hash of a whole subtree: 2^level leaves, the place-th of its size from the left.',
  key: ['level', 'place'],
});

/** One step of an inclusion proof is the hash of a sibling, leaf side first. */
export type InclusionProof = readonly string[];

/** Hash of a leaf: SHA-256 of 0x00 and the entry hash's bytes. */
export function leafHash(entryHash: string): string {
  return hashOnce('sha256', Buffer.from(`00${entryHash}`, 'hex'), 'hex');
}

/** Hash of a node: SHA-256 of 0x01 and both children's bytes. */
export function nodeHash(left: string, right: string): string {
  return hashOnce('sha256', Buffer.from(`01${left}${right}`, 'hex'), 'hex');
}

/** Hash of the tree without leaves, RFC 9162 section 2.1.1. */
export const emptyTreeHash = hashOnce('sha256', '', 'hex');

/** Adds the leaf of the entry with that number (numbers begin at 1). */
export async function addLeaf(books: BookWriter, number: number, entryHash: string): Promise<void> {
  let level = 0;
  let place = number - 1;
  let hash = leafHash(entryHash);
  await books.put(merkleNodes, { level, place, hash });
  while (place % 2 === 1) {
    hash = nodeHash(await nodeAt(books, level, place - 1), hash);
    level += 1;
    place = (place - 1) / 2;
    await books.put(merkleNodes, { level, place, hash });
  }
}

async function nodeAt(books: BookReader, level: number, place: number): Promise<string> {
  const node = await books.get(merkleNodes, level, place);
  invariant(node, `Merkle node ${level}/${place} is missing`);
  return node.hash;
}

/** The newest entry of the journal, with the hash of its leaf; nothing before the first. */
export async function newestLeaf(
  books: BookReader,
): Promise<{ readonly entry: number; readonly hash: string } | undefined> {
  const selection = { prefix: [0], descending: true, limit: 1 };
  const [leaf] = await books.select(merkleNodes, selection);
  return leaf && { entry: leaf.place + 1, hash: leaf.hash };
}

/** Largest power of two that is smaller than the count; the count is at least 2. */
function splitPoint(count: number): number {
  let size = 1;
  while (size * 2 < count) size *= 2;
  return size;
}

/** Hash of the subtree over the leaves start ≤ i < start + count. */
async function subtreeHash(books: BookReader, start: number, count: number): Promise<string> {
  if (count === 0) return emptyTreeHash;
  const level = Math.round(Math.log2(count));
  const isWhole = 2 ** level === count && start % count === 0;
  if (isWhole) return nodeAt(books, level, start / count);
  const left = splitPoint(count);
  return nodeHash(
    await subtreeHash(books, start, left),
    await subtreeHash(books, start + left, count - left),
  );
}

/** Root hash of the tree of the first `treeSize` entries. */
export async function rootHash(books: BookReader, treeSize: number): Promise<string> {
  return subtreeHash(books, 0, treeSize);
}

/** Proof that entry `number` is in the tree of `treeSize` entries: RFC 9162 section 2.1.3.1. */
export async function inclusionProof(
  books: BookReader,
  options: { number: number; treeSize: number },
): Promise<InclusionProof> {
  const { number, treeSize } = options;
  invariant(number >= 1 && number <= treeSize, `entry ${number} is not in a tree of ${treeSize}`);
  const path = async (leaf: number, start: number, count: number): Promise<string[]> => {
    if (count === 1) return [];
    const left = splitPoint(count);
    if (leaf < left) {
      const below = await path(leaf, start, left);
      return [...below, await subtreeHash(books, start + left, count - left)];
    }
    const below = await path(leaf - left, start + left, count - left);
    return [...below, await subtreeHash(books, start, left)];
  };
  return path(number - 1, 0, treeSize);
}

const hashForm = /^[0-9a-f]{64}$/;
const bytesForm = /^(?:[0-9a-f]{2})*$/;

/**
 * The root that a leaf and its proof lead to: RFC 9162 section 2.1.3.2. Needs no store. Nothing
 * when the proof has not the form of a proof for that leaf and tree.
 */
export function rootFromProof(options: {
  number: number;
  treeSize: number;
  entryHash: string;
  proof: InclusionProof;
}): string | undefined {
  const { number, treeSize, entryHash } = options;
  if (!Number.isSafeInteger(number) || !Number.isSafeInteger(treeSize)) return undefined;
  if (!bytesForm.test(entryHash)) return undefined;
  if (!options.proof.every((sibling) => hashForm.test(sibling))) return undefined;
  let place = number - 1;
  let last = treeSize - 1;
  if (place < 0 || place > last) return undefined;
  let hash = leafHash(entryHash);
  for (const sibling of options.proof) {
    if (last === 0) return undefined;
    if (place % 2 === 1 || place === last) {
      hash = nodeHash(sibling, hash);
      while (place % 2 === 0 && place !== 0) {
        place = Math.floor(place / 2);
        last = Math.floor(last / 2);
      }
    } else {
      hash = nodeHash(hash, sibling);
    }
    place = Math.floor(place / 2);
    last = Math.floor(last / 2);
  }
  return last === 0 ? hash : undefined;
}
