import { createPrivateKey, createPublicKey, generateKeyPairSync, sign, verify } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  readFileSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import type { Signer } from '../ports/signer.ts';

/** PKCS #8 wrapping of a raw Ed25519 seed, RFC 8410 section 7. */
const seedPrefix = Buffer.from('302e020100300506032b657004220420', 'hex');

function signerOf(pem: string): Signer {
  const key = createPrivateKey(pem);
  if (key.asymmetricKeyType !== 'ed25519') {
    throw new RangeError(`the plant's key is of type ${key.asymmetricKeyType}; accepted: ed25519`);
  }
  const publicKey = String(createPublicKey(key).export({ format: 'jwk' }).x);
  return Object.freeze({
    publicKey,
    sign: (bytes: Uint8Array) => sign(null, bytes, key).toString('base64url'),
  });
}

function newPem(seed: string | undefined): string {
  const key =
    seed === undefined
      ? generateKeyPairSync('ed25519').privateKey
      : createPrivateKey({
          key: Buffer.concat([seedPrefix, Buffer.from(seed, 'hex')]),
          format: 'der',
          type: 'pkcs8',
        });
  return key.export({ format: 'pem', type: 'pkcs8' }) as string;
}

/**
 * Makes the plant's signing key and keeps it in a file that only its owner may read. A key that is
 * there already is never overwritten. A seed (64 hexadecimal digits) makes the same key each time,
 * as a demonstration needs it; a real plant has none.
 */
export function makePlantKey(path: string, options: { readonly seed?: string } = {}): Signer {
  const { seed } = options;
  if (seed !== undefined && !/^[0-9a-f]{64}$/i.test(seed)) {
    throw new RangeError('the seed of a key is not 64 hexadecimal digits');
  }
  const pem = newPem(seed);
  const file = openSync(path, 'wx', 0o600);
  try {
    writeFileSync(file, pem);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
  return signerOf(pem);
}

/** Reads the plant's signing key; a file that others may read is refused. */
export function readPlantKey(path: string): Signer {
  const mode = statSync(path).mode & 0o077;
  if (process.platform !== 'win32' && mode !== 0) {
    throw new RangeError(`${path} may be read by others; accepted: readable by its owner only`);
  }
  return signerOf(readFileSync(path, 'utf8'));
}

/** The plant's signing key, made at the first call. */
export function plantKey(path: string, options: { readonly seed?: string } = {}): Signer {
  return existsSync(path) ? readPlantKey(path) : makePlantKey(path, options);
}

/** Checks an Ed25519 signature over bytes; public key and signature in base64url. */
export function checkSignature(options: {
  readonly publicKey: string;
  readonly signature: string;
  readonly bytes: Uint8Array;
}): boolean {
  try {
    const key = createPublicKey({
      key: { kty: 'OKP', crv: 'Ed25519', x: options.publicKey },
      format: 'jwk',
    });
    return verify(null, options.bytes, key, Buffer.from(options.signature, 'base64url'));
  } catch {
    // A key or signature that has no such form is not good either.
    return false;
  }
}
