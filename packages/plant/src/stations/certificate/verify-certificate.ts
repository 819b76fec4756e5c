import type { Json } from '../../ports/json.ts';
import { type CertificateContent, certificateContentSchema } from './content.ts';
import { checkFigures } from './figure-checks.ts';
import { differenceWords, firstDifference } from './first-difference.ts';
import { checkRecord, readRecord } from './record-checks.ts';
import { type Cryptography, webCryptography } from './web-cryptography.ts';

// The check runs in the browser too: nothing here may import node.

/** One thing that was checked, and what came of it in a sentence. */
export interface CertificateCheck {
  readonly check: string;
  readonly holds: boolean;
  readonly words: string;
}

/** What a check of a certificate found. */
export interface CertificateVerification {
  readonly holds: boolean;
  readonly certificate: string | null;
  /** Public key that the record is signed with, raw in base64url; hold it against the plant's. */
  readonly publicKey: string | null;
  readonly content: CertificateContent | null;
  readonly checks: readonly CertificateCheck[];
}

/** How a certificate is checked. */
export interface VerifyOptions {
  readonly cryptography?: Cryptography;
  /** The plant's public key as known from elsewhere; without it any key counts, and is shown. */
  readonly publicKey?: string;
}

function refused(check: CertificateCheck): CertificateVerification {
  return { holds: false, certificate: null, publicKey: null, content: null, checks: [check] };
}

/** Whether the readable part of the file says what is signed. */
function checkReadable(readable: Json | undefined, signed: Json): CertificateCheck {
  const check = 'readable content';
  const difference = firstDifference(readable, signed);
  if (!difference) {
    return { check, holds: true, words: 'The readable part of the file is what is signed.' };
  }
  const words = differenceWords(difference, { left: 'the file', right: 'the signed content' });
  return { check, holds: false, words: `The readable part of the file was altered: ${words}.` };
}

/**
 * Checks a certificate record without trusting the computer that made it: the signature, the entry
 * of the journal, the way from the entry to the signed head, every calculation from its readings,
 * and every sum. Each check is listed with what was found; what does not hold names its field.
 */
export async function verifyCertificate(
  text: string,
  options: VerifyOptions = {},
): Promise<CertificateVerification> {
  const record = readRecord(text);
  if ('problem' in record) return refused({ check: 'form', holds: false, words: record.problem });
  const { payload } = record;
  const checks = await checkRecord(record, {
    cryptography: options.cryptography ?? webCryptography,
    ...(options.publicKey === undefined ? {} : { publicKey: options.publicKey }),
  });
  const parsed = certificateContentSchema.safeParse(payload.content);
  const readable = checkReadable(record.content, payload.content as Json);
  const form: CertificateCheck = parsed.success
    ? { check: 'form', holds: true, words: 'The content has the form of a certificate.' }
    : {
        check: 'form',
        holds: false,
        words: `The content does not have the form of a certificate: ${parsed.error.issues[0]?.path.join('.')}: ${parsed.error.issues[0]?.message}.`,
      };
  const figures = parsed.success ? checkFigures(parsed.data) : [];
  const all = [form, ...checks, readable, ...figures];
  return {
    holds: all.every((check) => check.holds),
    certificate: parsed.success ? parsed.data.certificate : null,
    publicKey: record.publicKey,
    content: parsed.success ? parsed.data : null,
    checks: all,
  };
}
