/** The two cryptographic acts that a check of a certificate needs. */
export interface Cryptography {
  sha256(bytes: Uint8Array): Promise<Uint8Array>;
  /** Whether an Ed25519 signature over the bytes is good; the public key is raw, 32 bytes. */
  verifyEd25519(options: {
    readonly publicKey: Uint8Array;
    readonly signature: Uint8Array;
    readonly bytes: Uint8Array;
  }): Promise<boolean>;
}

type Bytes = Uint8Array<ArrayBuffer>;

/** Both acts by the Web Cryptography API, which browsers and Node offer alike. */
export const webCryptography: Cryptography = {
  sha256: async (bytes) => new Uint8Array(await crypto.subtle.digest('SHA-256', bytes as Bytes)),
  verifyEd25519: async ({ publicKey, signature, bytes }) => {
    if (publicKey.length !== 32 || signature.length !== 64) return false;
    const key = await crypto.subtle.importKey('raw', publicKey as Bytes, 'Ed25519', false, [
      'verify',
    ]);
    return crypto.subtle.verify('Ed25519', key, signature as Bytes, bytes as Bytes);
  },
};
