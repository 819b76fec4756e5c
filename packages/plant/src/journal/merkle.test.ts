import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../adapters/memory-store.ts';
import { type BookReader, bookReader, bookWriter } from './books.ts';
import { sha256Hex } from './entry.ts';
import {
  addLeaf,
  emptyTreeHash,
  inclusionProof,
  leafHash,
  merkleNodes,
  nodeHash,
  rootFromProof,
  rootHash,
} from './merkle.ts';

/*
 * The eight leaves, the roots of their trees and the proofs are those with which the Certificate
 * Transparency log software tests its Merkle tree (merkle_tree_test.cc, "RFC 6962" test vectors);
 * written down from memory and agreed with by the recursive definition of the RFC below.
 */
const leaves = [
  '',
  '00',
  '10',
  '2021',
  '3031',
  '40414243',
  '5051525354555657',
  '606162636465666768696a6b6c6d6e6f',
];

const roots = [
  '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
  '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
  '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
  'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
  '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
];

const proofs: readonly { number: number; treeSize: number; proof: readonly string[] }[] = [
  { number: 1, treeSize: 1, proof: [] },
  {
    number: 1,
    treeSize: 8,
    proof: [
      '96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7',
      '5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e',
      '6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4',
    ],
  },
  {
    number: 6,
    treeSize: 8,
    proof: [
      'bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b',
      'ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0',
      'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
    ],
  },
  {
    number: 3,
    treeSize: 3,
    proof: ['fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125'],
  },
  {
    number: 2,
    treeSize: 5,
    proof: [
      '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
      '5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e',
      'bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b',
    ],
  },
];

/** The root as RFC 9162 section 2.1.1 defines it: by splitting, from nothing. */
function definedRoot(hashes: readonly string[]): string {
  if (hashes.length === 0) return sha256Hex('');
  if (hashes.length === 1) return leafHash(hashes[0] as string);
  const left = 2 ** Math.ceil(Math.log2(hashes.length) - 1);
  return nodeHash(definedRoot(hashes.slice(0, left)), definedRoot(hashes.slice(left)));
}

async function treeOf(hashes: readonly string[]): Promise<BookReader> {
  const store = new MemoryStore('trial');
  await store.prepare([merkleNodes]);
  await store.write(async (writer) => {
    for (const [index, hash] of hashes.entries())
      await addLeaf(bookWriter(writer), index + 1, hash);
  });
  return bookReader(store.reader);
}

describe('Merkle tree', () => {
  it('has the published roots for one to eight leaves, and that of no leaf', async () => {
    const tree = await treeOf(leaves);
    for (const [index, root] of roots.entries()) expect(await rootHash(tree, index + 1)).toBe(root);
    expect(await rootHash(tree, 0)).toBe(emptyTreeHash);
    expect(emptyTreeHash).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855');
  });

  it.each(proofs)(
    'gives the published proof of leaf $number in a tree of $treeSize',
    async (known) => {
      const { number, treeSize, proof } = known;
      expect(await inclusionProof(await treeOf(leaves), { number, treeSize })).toEqual(proof);
      const entryHash = leaves[number - 1] as string;
      expect(rootFromProof({ number, treeSize, entryHash, proof })).toBe(roots[treeSize - 1]);
    },
  );

  it('proves every leaf in every tree up to 70 leaves, and its root is the defined one', async () => {
    const hashes = Array.from({ length: 70 }, (_, index) => sha256Hex(`entry ${index + 1}`));
    const tree = await treeOf(hashes);
    for (let treeSize = 1; treeSize <= hashes.length; treeSize += 1) {
      const root = await rootHash(tree, treeSize);
      expect(root).toBe(definedRoot(hashes.slice(0, treeSize)));
      for (let number = 1; number <= treeSize; number += 1) {
        const proof = await inclusionProof(tree, { number, treeSize });
        const entryHash = hashes[number - 1] as string;
        expect(rootFromProof({ number, treeSize, entryHash, proof })).toBe(root);
      }
    }
  });

  it('leads to no published root when a proof is altered, cut, lengthened or put elsewhere', async () => {
    const hashes = Array.from({ length: 13 }, (_, index) => sha256Hex(`entry ${index + 1}`));
    const tree = await treeOf(hashes);
    const root = await rootHash(tree, 13);
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: 13 }),
        fc.constantFrom('alter', 'cut', 'lengthen', 'move', 'other leaf', 'malformed'),
        fc.nat(),
        async (number, change, at) => {
          const proof = [...(await inclusionProof(tree, { number, treeSize: 13 }))];
          const options = { number, treeSize: 13, entryHash: hashes[number - 1] as string };
          const place = at % proof.length;
          if (change === 'alter') proof[place] = sha256Hex(`not ${proof[place]}`);
          if (change === 'cut') proof.splice(place, 1);
          if (change === 'lengthen') proof.splice(place, 0, proof[place] as string);
          if (change === 'malformed') proof[place] = `${proof[place]}zz`;
          if (change === 'move') options.number = (number % 13) + 1;
          if (change === 'other leaf') options.entryHash = hashes[number % 13] as string;
          expect(rootFromProof({ ...options, proof })).not.toBe(root);
        },
      ),
      { seed: 9162, numRuns: 300 },
    );
  });

  it('proves nothing of an entry outside its tree', async () => {
    const tree = await treeOf(leaves);
    await expect(inclusionProof(tree, { number: 9, treeSize: 8 })).rejects.toThrow('not in a tree');
    const proof: string[] = [];
    for (const number of [0, 2, 1.5, Number.NaN]) {
      expect(rootFromProof({ number, treeSize: 1, entryHash: '', proof })).toBeUndefined();
    }
  });
});
