import { chmodSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { checkSignature, makePlantKey, plantKey, readPlantKey } from './plant-keys.ts';

const folder = mkdtempSync(join(tmpdir(), 'plant-keys-'));
afterAll(() => rmSync(folder, { recursive: true }));

describe('the plant’s signing key', () => {
  // RFC 8032, section 7.1, TEST 2 (one byte, 0x72).
  it('signs as RFC 8032 says', () => {
    const seed = '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb';
    const signer = makePlantKey(join(folder, 'rfc.pem'), { seed });
    expect(Buffer.from(signer.publicKey, 'base64url').toString('hex')).toBe(
      '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
    );
    expect(Buffer.from(signer.sign(Uint8Array.of(0x72)), 'base64url').toString('hex')).toBe(
      '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
    );
  });

  it('is kept for its owner alone, read again as the same, and never overwritten', () => {
    const path = join(folder, 'own.pem');
    const made = plantKey(path);
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(plantKey(path).publicKey).toBe(made.publicKey);
    expect(() => makePlantKey(path)).toThrow(/EEXIST/);
  });

  it('is refused when others may read it', () => {
    const path = join(folder, 'open.pem');
    makePlantKey(path);
    chmodSync(path, 0o644);
    expect(() => readPlantKey(path)).toThrow('may be read by others');
  });

  it('is not made from a seed of another form', () => {
    expect(() => makePlantKey(join(folder, 'bad.pem'), { seed: 'abc' })).toThrow(
      '64 hexadecimal digits',
    );
  });

  it('tells a good signature from an altered one and from one of another form', () => {
    const signer = plantKey(join(folder, 'check.pem'));
    const bytes = Buffer.from('entry 1');
    const signature = signer.sign(bytes);
    expect(checkSignature({ publicKey: signer.publicKey, signature, bytes })).toBe(true);
    expect(
      checkSignature({ publicKey: signer.publicKey, signature, bytes: Buffer.from('entry 2') }),
    ).toBe(false);
    expect(checkSignature({ publicKey: 'no key', signature, bytes })).toBe(false);
  });
});
