/**
 * Thrown when an argument lies outside the domain that a function states: it names the argument,
 * the value and what would be accepted.
 */
export class DomainError extends RangeError {
  readonly field: string;
  readonly value: unknown;
  readonly accepted: string;

  constructor(options: { field: string; value: unknown; accepted: string }) {
    super(`${options.field} is ${String(options.value)}; accepted: ${options.accepted}`);
    this.name = 'DomainError';
    this.field = options.field;
    this.value = options.value;
    this.accepted = options.accepted;
  }
}

/** Refuses with a `DomainError` unless the condition holds. */
export function requireDomain(
  condition: boolean,
  options: { field: string; value: unknown; accepted: string },
): asserts condition {
  if (!condition) throw new DomainError(options);
}
