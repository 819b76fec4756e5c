import type { Reading } from '../journal/reading.ts';
import type { Refusal } from '../journal/refusal.ts';
import type { Role } from '../journal/station.ts';
import type { JsonObject } from '../ports/json.ts';
import type { SheetAtPlant, SheetSent } from './sheet-keeper.ts';

/** What the server says of a command to the person who is signed in. */
export interface CommandDescription {
  readonly title: string;
  readonly signature: 'none' | 'author' | 'author and witness';
  readonly roles: readonly Role[];
  readonly witnessRoles: readonly Role[];
  /** Whether the person holds a role that may ask for it. */
  readonly allowed: boolean;
}

/** Who is signed in, and what the plant offers. */
export interface Session {
  readonly person: {
    readonly person: string;
    readonly name: string;
    readonly roles: readonly Role[];
  };
  readonly plant: string;
  readonly plantTitle: string;
  /** Sent back with every change, so that no other page can act for this person. */
  readonly token: string;
  readonly stations: readonly { readonly station: string; readonly title: string }[];
  readonly commands: Readonly<Record<string, CommandDescription>>;
}

/** An entry as the server tells of it once it is recorded. */
export interface RecordedSummary {
  readonly number: number;
  readonly kind: string;
  readonly station: string;
  readonly instant: string;
}

/** What became of a command. */
export type CommandOutcome =
  | {
      readonly outcome: 'recorded';
      readonly entries: readonly RecordedSummary[];
      readonly answer: JsonObject;
    }
  | { readonly outcome: 'refused'; readonly refusals: readonly Refusal[] };

/** Secrets that prove the people of a signed act; sent once and kept nowhere. */
export interface Signing {
  readonly signature?: { readonly password: string };
  readonly witness?: { readonly person: string; readonly password: string };
}

/** The server could not be reached; whether it acted is not known. */
export class Unreachable extends Error {
  constructor(cause: unknown) {
    super('The plant’s server cannot be reached.', { cause });
    this.name = 'Unreachable';
  }
}

/** Nobody is signed in, or the session has ended. */
export class NotSignedIn extends Error {
  readonly plantTitle: string;
  constructor(plantTitle: string) {
    super('Nobody is signed in.');
    this.name = 'NotSignedIn';
    this.plantTitle = plantTitle;
  }
}

/** One reason why the input of a question or calculation was not accepted. */
export interface InputProblem {
  readonly field: string;
  readonly value: unknown;
  readonly accepted: string;
  /** The whole sentence, where the plant has said more than what would be accepted. */
  readonly message?: string;
}

/** The server answered that it cannot do this. */
class NotAnswered extends Error {
  readonly status: number;
  readonly problems: readonly InputProblem[];
  constructor(status: number, message: string, problems: readonly InputProblem[] = []) {
    super(message);
    this.name = 'NotAnswered';
    this.status = status;
    this.problems = problems;
  }
}

let token = '';
let lastInput = 0;

/** Notes that a hand is at work; without one the session ends after a while. */
export function noteHand(): void {
  lastInput = Date.now();
}

function headers(): Record<string, string> {
  const isAtWork = Date.now() - lastInput < 60_000;
  return isAtWork ? { 'x-cupel-hand': 'at work' } : {};
}

interface Answered {
  readonly status: number;
  readonly body: JsonObject;
}

async function reach(path: string, options: RequestInit = {}): Promise<Answered> {
  let response: Response;
  try {
    response = await fetch(path, {
      ...options,
      credentials: 'same-origin',
      headers: { ...headers(), ...(options.headers as Record<string, string>) },
    });
  } catch (error) {
    throw new Unreachable(error);
  }
  if (response.status === 502 || response.status === 503 || response.status === 504) {
    throw new Unreachable(response.status);
  }
  const body = (await response.json().catch(() => ({}))) as JsonObject;
  if (response.status === 401 && path !== '/api/sign-in') {
    throw new NotSignedIn(String(body.plantTitle ?? ''));
  }
  return { status: response.status, body };
}

function post(path: string, body: unknown): Promise<Answered> {
  return reach(path, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'x-cupel-token': token },
    body: JSON.stringify(body),
  });
}

function refusalsOf(body: JsonObject): readonly Refusal[] {
  return (body.refusals as unknown as readonly Refusal[] | undefined) ?? [];
}

/** Whether an answer holds refusals; any other answer that is not good is thrown. */
function isRefused({ status, body }: Answered): boolean {
  if (status < 400) return false;
  if (refusalsOf(body).length > 0) return true;
  const problems = body.problems as unknown as readonly InputProblem[] | undefined;
  throw new NotAnswered(status, String(body.message ?? `The server answers ${status}.`), problems);
}

/** The session of whoever is signed in. */
export async function fetchSession(): Promise<Session> {
  const { body } = await reach('/api/session');
  const session = body as unknown as Session;
  token = session.token;
  return session;
}

/** Signs in; answers the refusals, none when it went well. */
export async function signIn(person: string, password: string): Promise<readonly Refusal[]> {
  const answered = await post('/api/sign-in', { person, password });
  return isRefused(answered) ? refusalsOf(answered.body) : [];
}

/** First sign-in: sets the password with a one-time code. */
export async function signInFirst(input: {
  person: string;
  code: string;
  password: string;
}): Promise<readonly Refusal[]> {
  const answered = await post('/api/first-sign-in', input);
  return isRefused(answered) ? refusalsOf(answered.body) : [];
}

/** Ends the session. */
export async function signOut(): Promise<void> {
  await post('/api/sign-out', {});
}

/** Makes a one-time code with which an enrolled person signs in for the first time. */
export async function makeOneTimeCode(
  person: string,
  password: string,
): Promise<{ code: string; until: string } | { refusals: readonly Refusal[] }> {
  const answered = await post('/api/one-time-codes', { person, signature: { password } });
  if (isRefused(answered)) return { refusals: refusalsOf(answered.body) };
  return answered.body as unknown as { code: string; until: string };
}

/** Changes the password of whoever is signed in. */
export async function changePassword(
  password: string,
  newPassword: string,
): Promise<readonly Refusal[]> {
  const answered = await post('/api/change-password', { password, newPassword });
  return isRefused(answered) ? refusalsOf(answered.body) : [];
}

/** Sends a command under a key; the same key is recorded once, however often it is sent. */
export async function sendCommand(
  command: string,
  body: { key: string; input: unknown } & Signing,
): Promise<CommandOutcome> {
  const answered = await post(`/api/commands/${encodeURIComponent(command)}`, body);
  if (isRefused(answered)) return { outcome: 'refused', refusals: refusalsOf(answered.body) };
  return answered.body as unknown as CommandOutcome;
}

/** Asks a question of the books. */
export async function askQuestion<Answer>(question: string, input: unknown): Promise<Answer> {
  const query = `input=${encodeURIComponent(JSON.stringify(input))}`;
  const answered = await reach(`/api/questions/${encodeURIComponent(question)}?${query}`);
  isRefused(answered);
  return answered.body as unknown as Answer;
}

/** Reads from a fixed path of the server. */
export async function read<Answer>(path: string): Promise<Answer> {
  const answered = await reach(path);
  isRefused(answered);
  return answered.body as unknown as Answer;
}

/** A reading as an instrument sent it by its line. */
export interface SentReading {
  readonly reading: Reading;
  readonly instrument: string;
  /** True when a tare was taken off at the instrument. */
  readonly net: boolean;
  /** The whole line, as it came. */
  readonly raw: string;
}

/** Waits for a stable reading of an instrument that is read on a line. */
export async function takeReading(
  instrument: string,
): Promise<SentReading | { refusals: readonly Refusal[] }> {
  const answered = await post(`/api/instruments/${encodeURIComponent(instrument)}/read`, {});
  if (isRefused(answered)) return { refusals: refusalsOf(answered.body) };
  return answered.body as unknown as SentReading;
}

/** Keeps a file beside the journal; answers the hash under which it is found again. */
export async function keepAttachment(
  file: File,
): Promise<{ sha256: string } | { refusals: readonly Refusal[] }> {
  const form = new FormData();
  form.append('file', file);
  const answered = await reach('/api/attachments', {
    method: 'POST',
    headers: { 'x-cupel-token': token },
    body: form,
  });
  if (isRefused(answered)) return { refusals: refusalsOf(answered.body) };
  return answered.body as unknown as { sha256: string };
}

/** A half-filled sheet by whose it is: no other person's session finds or keeps it. */
export interface SheetName {
  readonly person: string;
  readonly command: string;
  readonly thing: string;
}

function sheetPath({ person, command, thing }: SheetName): string {
  const query = new URLSearchParams({ person, thing });
  return `/api/sheets/${encodeURIComponent(command)}?${query}`;
}

/** The half-filled sheet of whoever is signed in; nothing where none is kept. */
export async function findSheet(name: SheetName): Promise<SheetAtPlant | null> {
  const answered = await reach(sheetPath(name));
  isRefused(answered);
  return answered.body['sheet'] as unknown as SheetAtPlant | null;
}

/** Keeps a half-filled sheet, unless it was changed elsewhere since that revision. */
export async function keepSheet(
  name: SheetName,
  sheet: { readonly revision: number; readonly value: object },
): Promise<SheetSent> {
  const answered = await reach(sheetPath(name), {
    method: 'PUT',
    headers: { 'content-type': 'application/json', 'x-cupel-token': token },
    body: JSON.stringify(sheet),
  });
  if (answered.status === 409) {
    const other = answered.body['sheet'] as unknown as SheetAtPlant | null;
    return { outcome: 'changed elsewhere', sheet: other };
  }
  if (isRefused(answered)) {
    return { outcome: 'refused', words: refusalsOf(answered.body)[0]?.message ?? '' };
  }
  const { revision, keptAt } = answered.body;
  return { outcome: 'kept', revision: Number(revision), keptAt: String(keptAt) };
}

/** Forgets a half-filled sheet: it was recorded, or emptied. */
export async function forgetSheet(name: SheetName): Promise<void> {
  const headers = { 'x-cupel-token': token };
  isRefused(await reach(sheetPath(name), { method: 'DELETE', headers }));
}

/** That a half-filled sheet is kept, as the list of them tells it. */
export interface SheetListed extends SheetName {
  readonly name: string;
  readonly title: string;
  readonly keptAt: string;
  readonly isOwn: boolean;
}

/** The half-filled sheets of commands that whoever is signed in may ask for, oldest first. */
export async function listSheets(): Promise<readonly SheetListed[]> {
  const answered = await reach('/api/sheets');
  isRefused(answered);
  return answered.body['sheets'] as unknown as readonly SheetListed[];
}

/** Where a kept file is found. */
export function attachmentPath(sha256: string): string {
  return `/api/attachments/${sha256}`;
}

/** Where a paper of a thing is found. */
export function paperPath(paper: string, id: string): string {
  return `/api/papers/${encodeURIComponent(paper)}/${encodeURIComponent(id)}`;
}
