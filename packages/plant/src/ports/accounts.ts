/** What came of proving who someone is. */
export type Proof =
  | { readonly proof: 'good' }
  | { readonly proof: 'wrong' }
  /** Too many wrong attempts: nothing was compared. */
  | { readonly proof: 'wait'; readonly seconds: number };

/** A session as its token proves it. */
export interface OpenSession {
  readonly person: string;
  /** When it ends at the latest, in milliseconds since 1970. */
  readonly endsAt: number;
}

/** How people prove who they are. It keeps no secret in a form from which it could be read again. */
export interface Accounts {
  /** Whether the person has set a password. */
  hasPassword(person: string): boolean;
  /** Sets a password; a password that is too easy to guess is a `RangeError` that says why. */
  setPassword(person: string, password: string): Promise<void>;
  /** Compares a password; wrong ones are counted, and many of them bring a delay. */
  check(person: string, password: string): Promise<Proof>;
  /** Makes a code with which the person sets a password once, until the instant answered. */
  makeCode(person: string): Promise<{ readonly code: string; readonly until: number }>;
  /** Takes the code and sets the password; a wrong code is counted like a wrong password. */
  redeemCode(input: { person: string; code: string; password: string }): Promise<Proof>;
  /** Opens a session; answers its token, which is kept only as a hash. */
  openSession(person: string, idleMinutes: number): string;
  /** The session of a token while it lasts. `byHand` keeps it from idling out. */
  session(token: string, options: { readonly byHand: boolean }): OpenSession | undefined;
  closeSession(token: string): void;
  /** Ends every session of a person, but the one of that token. */
  closeSessionsOf(person: string, exceptToken?: string): void;
  close(): void;
}

/** Why a password is too easy to guess, as a sentence; nothing when it may be used. */
export function passwordProblem(person: string, password: string): string | undefined {
  const length = [...password].length;
  if (length < 12) return `The password has ${length} characters; 12 or more are accepted.`;
  if (length > 256) return `The password has ${length} characters; at most 256 are accepted.`;
  const rest = password.toLowerCase().replaceAll(person.toLowerCase(), '');
  if ([...rest].length < 8) return 'The password is made of the sign-in name; choose other words.';
  if (new Set(password).size < 5) {
    return 'The password repeats fewer than 5 different characters; choose other words.';
  }
  return undefined;
}
