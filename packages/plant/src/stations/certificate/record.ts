import { canonicalText } from '../../journal/entry.ts';
import type { SignedHead } from '../../journal/head.ts';
import type { InclusionProof } from '../../journal/merkle.ts';
import type { EntryProof } from '../../journal/station.ts';
import type { Signer } from '../../ports/signer.ts';
import type { CertificateContent } from './content.ts';

/** What the plant signs when it hands out a certificate. */
export interface RecordPayload {
  readonly content: CertificateContent;
  /** The journal entry that issued it, as canonical JSON text, and its SHA-256. */
  readonly entryText: string;
  readonly entryHash: string;
  /** The way from the entry to the root that the signed head states. */
  readonly inclusion: { readonly number: number; readonly proof: InclusionProof };
  readonly head: SignedHead;
}

/**
 * A certificate record: a JSON Web Signature in flattened JSON form (RFC 7515 section 7.2.2) whose
 * payload is a `RecordPayload`. `content` repeats what is signed so that people can read the file;
 * a check holds the two against each other.
 */
export interface CertificateRecord {
  readonly content: CertificateContent;
  readonly payload: string;
  readonly protected: string;
  readonly signature: string;
}

const base64url = (text: string): string => Buffer.from(text, 'utf8').toString('base64url');

/** Makes the signed record of a certificate; the same certificate gives the same bytes. */
export function certificateRecord(
  content: CertificateContent,
  proof: EntryProof,
  signer: Signer,
): CertificateRecord {
  const number = (JSON.parse(proof.entryText) as { number: number }).number;
  const payload: RecordPayload = {
    content,
    entryText: proof.entryText,
    entryHash: proof.entryHash,
    inclusion: { number, proof: proof.proof },
    head: proof.head,
  };
  const header = {
    alg: 'EdDSA',
    cty: 'application/json',
    jwk: { crv: 'Ed25519', kty: 'OKP', x: signer.publicKey },
  };
  const protectedText = base64url(canonicalText(header));
  const payloadText = base64url(canonicalText(payload));
  const signature = signer.sign(Buffer.from(`${protectedText}.${payloadText}`, 'ascii'));
  return { content, payload: payloadText, protected: protectedText, signature };
}
