/** The plant's signing key (Ed25519). Signing is deterministic: same bytes, same signature. */
export interface Signer {
  /** Raw public key, 32 bytes in base64url. */
  readonly publicKey: string;
  /** Signature of the bytes, 64 bytes in base64url. */
  sign(bytes: Uint8Array): string;
}
