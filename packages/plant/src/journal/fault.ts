/** Our own error: an invariant does not hold. It stops the command and is never shown as a refusal. */
export class Fault extends Error {
  constructor(message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'Fault';
  }
}

/** States an invariant; it stays on in production. */
export function invariant(condition: unknown, message: string): asserts condition {
  if (!condition) throw new Fault(message);
}
