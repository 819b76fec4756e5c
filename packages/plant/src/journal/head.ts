import type { Signer } from '../ports/signer.ts';
import type { StoreWriter } from '../ports/store.ts';
import { bookReader } from './books.ts';
import { canonicalText, type Entry } from './entry.ts';
import { rootHash } from './merkle.ts';

/** What a signed head says: how many entries there were, and the root over their hashes. */
interface HeadStatement {
  readonly plant: string;
  readonly treeSize: number;
  readonly rootHash: string;
  readonly instant: string;
}

/** A head with the plant's signature over the canonical text of its statement. */
export interface SignedHead {
  readonly statement: HeadStatement;
  readonly publicKey: string;
  readonly signature: string;
}

/** Signs the head of the tree that ends with the entry, and keeps it beside the journal. */
export async function signHead(
  writer: StoreWriter,
  signer: Signer,
  entry: Entry,
): Promise<SignedHead> {
  const statement: HeadStatement = {
    plant: entry.plant,
    treeSize: entry.number,
    rootHash: await rootHash(bookReader(writer), entry.number),
    instant: entry.instant,
  };
  const signature = signer.sign(Buffer.from(canonicalText(statement)));
  const head: SignedHead = { statement, publicKey: signer.publicKey, signature };
  await writer.putHead({ treeSize: entry.number, text: canonicalText(head) });
  return head;
}
