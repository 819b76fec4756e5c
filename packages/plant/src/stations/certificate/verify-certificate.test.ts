import { createPublicKey, verify as verifySignature } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { flattenedVerify, importJWK } from 'jose';
import { beforeAll, describe, expect, it } from 'vitest';
import { canonicalText, sha256Hex } from '../../journal/entry.ts';
import { rootFromProof } from '../../journal/merkle.ts';
import type { Trial } from '../../journal/trial.ts';
import { signerFromSeed } from '../../journal/trial.ts';
import { recorded } from '../laboratory/laboratory-trial.ts';
import { certificateTrial, issue, recordText } from './certificate-trial.ts';
import type { CertificateContent } from './content.ts';
import type { CertificateRecord, RecordPayload } from './record.ts';
import { verifyCertificate } from './verify-certificate.ts';

type Change = (payload: { -readonly [Field in keyof RecordPayload]: RecordPayload[Field] }) => void;

let trial: Trial;
let text: string;

beforeAll(async () => {
  trial = await certificateTrial();
  recorded(await issue(trial, 'CERT-1', ['B-1', 'B-2']));
  // Another head after it, so that the proof of the certificate has siblings on both sides.
  recorded(
    await trial.do('withdraw-certificate', { certificate: 'CERT-1', reason: 'Trial.' }, 'chief'),
  );
  text = await recordText(trial, 'CERT-1');
});

const decode = (part: string): string => Buffer.from(part, 'base64url').toString('utf8');
const encode = (value: object): string => Buffer.from(canonicalText(value)).toString('base64url');

/** The record with a changed payload, signed anew with a key: the work of a dishonest plant. */
function forged(change: Change, seed = '11'.repeat(32)): string {
  const record = JSON.parse(text) as CertificateRecord;
  const payload = JSON.parse(decode(record.payload)) as RecordPayload;
  change(payload);
  const payloadText = encode(payload);
  const signed = Buffer.from(`${record.protected}.${payloadText}`);
  const signature = signerFromSeed(seed).sign(signed);
  return JSON.stringify({ ...record, content: payload.content, payload: payloadText, signature });
}

/** The record with a changed entry whose hash is made to fit. */
const withEntry = (change: (entry: Record<string, unknown>) => void): string =>
  forged((payload) => {
    const entry = JSON.parse(payload.entryText) as Record<string, unknown>;
    change(entry);
    payload.entryText = canonicalText(entry);
    payload.entryHash = sha256Hex(payload.entryText);
    payload.content = (entry as { body: { content: CertificateContent } }).body.content;
  });

const failing = async (record: string): Promise<Record<string, string>> => {
  const { checks } = await verifyCertificate(record);
  return Object.fromEntries(
    checks.filter((one) => !one.holds).map((one) => [one.check, one.words] as const),
  );
};

describe('the record of a certificate', () => {
  it('is a flattened JSON Web Signature that another implementation accepts', async () => {
    const record = JSON.parse(text) as CertificateRecord;
    const header = JSON.parse(decode(record.protected)) as { jwk: { x: string } };
    const key = await importJWK({ kty: 'OKP', crv: 'Ed25519', x: header.jwk.x }, 'EdDSA');
    const { payload } = await flattenedVerify(
      { payload: record.payload, protected: record.protected, signature: record.signature },
      key,
    );
    const { content } = JSON.parse(Buffer.from(payload).toString('utf8')) as RecordPayload;
    expect(content).toEqual(record.content);
  });

  it('leads from the entry to the signed head by the way that the journal itself computes', () => {
    const record = JSON.parse(text) as CertificateRecord;
    const { entryHash, inclusion, head } = JSON.parse(decode(record.payload)) as RecordPayload;
    const { treeSize, rootHash } = head.statement;
    expect(inclusion.proof.length).toBeGreaterThan(2);
    expect(rootFromProof({ ...inclusion, treeSize, entryHash })).toBe(rootHash);
    const jwk = { kty: 'OKP', crv: 'Ed25519', x: head.publicKey };
    const good = verifySignature(
      null,
      Buffer.from(canonicalText(head.statement)),
      createPublicKey({ key: jwk, format: 'jwk' }),
      Buffer.from(head.signature, 'base64url'),
    );
    expect(good).toBe(true);
  });

  it('is the same each time, byte for byte', async () => {
    expect(await recordText(trial, 'CERT-1')).toBe(text);
  });
});

describe('verifyCertificate', () => {
  it('finds that everything holds', async () => {
    const found = await verifyCertificate(text, { publicKey: trial.signer.publicKey });
    expect(found.checks.filter((check) => !check.holds)).toEqual([]);
    expect(found).toMatchObject({ holds: true, certificate: 'CERT-1' });
  });

  it('names the field and the digit that were altered in the readable part', async () => {
    const record = JSON.parse(text) as { content: { boxes: { pieces: number }[] } };
    const [box] = record.content.boxes;
    if (box) box.pieces = 21;
    expect(await failing(JSON.stringify(record))).toEqual({
      'readable content':
        'The readable part of the file was altered: boxes.0.pieces: the file says 21, the signed content says 20 (digit 2: 1 instead of 0).',
    });
  });

  it('finds an altered digit of the signed part: the signature, the entry and the figure disagree', async () => {
    const record = JSON.parse(text) as CertificateRecord;
    const payload = decode(record.payload).replace(
      '"grossMicrograms":320400000',
      '"grossMicrograms":320500000',
    );
    const altered = { ...record, payload: Buffer.from(payload).toString('base64url') };
    const found = await failing(JSON.stringify(altered));
    expect(Object.keys(found)).toEqual(['signature', 'content', 'readable content', 'sums']);
    expect(found.content).toContain(
      'totals.grossMicrograms: the certificate says 320500000, the entry says 320400000 (digit 4: 5 instead of 4)',
    );
    expect(found.sums).toContain(
      'totals.grossMicrograms: the certificate says 320500000, what it comes from says 320400000',
    );
  });

  it('finds a content that the plant signed but that its entry does not hold', async () => {
    const other = forged(({ content }) => {
      const [melt] = content.melts;
      if (melt) melt.supplier = 'Southern Metals';
    });
    expect(Object.keys(await failing(other))).toEqual(['content']);
  });

  it('finds an entry that is not the one in the journal, even when its hash fits its text', async () => {
    const other = withEntry((entry) => {
      entry.author = 'somebody';
    });
    const found = await failing(other);
    expect(Object.keys(found)).toEqual(['inclusion']);
    expect(found.inclusion).toMatch(/^The proof leads to the root [0-9a-f]{64}, not to /);
  });

  it('finds an entry whose text does not give its hash, and one of another kind', async () => {
    const spaced = forged((payload) => {
      payload.entryText = payload.entryText.replace('"author"', ' "author"');
    });
    expect((await failing(spaced)).entry).toMatch(/^The entry gives the hash /);
    const kind = withEntry((entry) => {
      entry.kind = 'BoxPacked';
    });
    expect((await failing(kind)).entry).toBe(
      'The entry is of the kind BoxPacked; it issues nothing.',
    );
  });

  it('finds a head that was not signed, or signed by another', async () => {
    const moved = forged((payload) => {
      const statement = { ...payload.head.statement, instant: '2026-01-01T00:00:00.000Z' };
      payload.head = { ...payload.head, statement };
    });
    expect(Object.keys(await failing(moved))).toEqual(['head']);
    const other = forged((payload) => {
      const signer = signerFromSeed('22'.repeat(32));
      const signature = signer.sign(Buffer.from(canonicalText(payload.head.statement)));
      payload.head = { ...payload.head, publicKey: signer.publicKey, signature };
    });
    expect(Object.keys(await failing(other))).toEqual(['key']);
  });

  it('finds a signature by another key, and a key that is not the one the plant published', async () => {
    expect(Object.keys(await failing(forged(() => {}, '22'.repeat(32))))).toEqual(['signature']);
    const { publicKey } = signerFromSeed('22'.repeat(32));
    const found = await verifyCertificate(text, { publicKey });
    expect(found.checks.filter((one) => !one.holds).map((one) => one.check)).toEqual(['key']);
  });

  it.each([
    ['', 'The file cannot be read as a certificate record'],
    ['{}', 'The file holds no payload, protected header and signature.'],
    ['{"payload":"!","protected":"e30","signature":""}', 'text is not in base64url'],
  ])('says of %j why it is no record', async (file, words) => {
    const found = await verifyCertificate(file);
    expect(found).toMatchObject({ holds: false, certificate: null });
    expect(found.checks[0]?.words).toContain(words);
  });

  it('says which field does not have the form of a certificate', async () => {
    const other = forged((payload) => {
      payload.content = { ...payload.content, format: 'another' as 'cupel certificate 1' };
    });
    expect((await failing(other)).form).toMatch(/^The content does not have the form .*: format: /);
  });

  it('runs in a browser: no file that it loads asks for node', () => {
    const seen = new Set<string>();
    const walk = (file: string): void => {
      if (seen.has(file)) return;
      seen.add(file);
      const source = readFileSync(file, 'utf8').replace(/import type [^;]*;/g, '');
      for (const [, from = ''] of source.matchAll(/from '([^']+)'/g)) {
        expect(from, `${file} imports ${from}`).not.toMatch(/^node:|^(node:)?(crypto|fs|path)$/);
        const path = resolve(dirname(file), from);
        if (from.startsWith('.') && existsSync(path)) walk(path);
      }
    };
    walk(resolve(import.meta.dirname, 'verify-certificate.ts'));
    expect(seen.size).toBeGreaterThan(8);
  });
});
