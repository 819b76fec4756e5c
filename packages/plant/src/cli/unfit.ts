/** Ends a command with a message for the person; 1 for a refusal, 2 for words that do not fit. */
export class Unfit extends Error {
  readonly status: 1 | 2;
  constructor(message: string, status: 1 | 2 = 1) {
    super(message);
    this.name = 'Unfit';
    this.status = status;
  }
}
