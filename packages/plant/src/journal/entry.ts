import { hash } from 'node:crypto';
import canonicalize from 'canonicalize';
import type { Json, JsonObject } from '../ports/json.ts';
import { invariant } from './fault.ts';
import { textOfPlain } from './plain-text.ts';
import type { Posting } from './posting.ts';

/** A thing of the plant that an entry speaks of: a melt, a drum, a tube, a die. */
export interface Thing {
  readonly thing: string;
  readonly id: string;
}

/** One thing that came out of another: blanks of a melt struck by a die into a tube. */
export interface Descent {
  readonly parent: Thing;
  readonly child: Thing;
}

/** One line of the journal: what happened, when, by whom, and what metal it moved. */
export interface Entry<Body extends JsonObject = JsonObject> {
  readonly number: number;
  readonly plant: string;
  readonly kind: string;
  readonly kindVersion: number;
  /** Server clock, UTC, ISO 8601 with milliseconds. */
  readonly instant: string;
  /** The plant's shift at that instant, as `2026-11-25-early`. */
  readonly shift: string;
  readonly author: string;
  /** The second person, where the act needs two. */
  readonly witness: string | null;
  readonly station: string;
  readonly instrument: string | null;
  readonly body: Body;
  readonly postings: readonly Posting[];
  /** Number of the entry that this one corrects, with the reason beside it. */
  readonly corrects: number | null;
  readonly reason: string | null;
  /** Key of the command that recorded it: the same key is recorded once. */
  readonly idempotencyKey: string;
  /** SHA-256 of the command's name and input as they came: the key is good for no other request. */
  readonly requestHash: string;
  readonly previousHash: string;
}

/** An entry that has been recorded, with its own hash beside it; the hash is no part of its text. */
export interface RecordedEntry<Body extends JsonObject = JsonObject> extends Entry<Body> {
  readonly hash: string;
}

/** The hash that stands before the first entry: 64 zeros. */
export const genesisHash = '0'.repeat(64);

/** RFC 8785 canonical JSON text of a value. */
export function canonicalText(value: Json | object): string {
  const text = textOfPlain(value) ?? canonicalize(value);
  invariant(text !== undefined, 'value has no canonical JSON form');
  return text;
}

/** Whether every object in the value has its names in the order of RFC 8785. */
function hasSortedNames(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return true;
  if (Array.isArray(value)) return value.every(hasSortedNames);
  let before: string | undefined;
  for (const name of Object.keys(value)) {
    if (before !== undefined && name < before) return false;
    if (!hasSortedNames((value as Record<string, unknown>)[name])) return false;
    before = name;
  }
  return true;
}

/**
 * Whether the text is the canonical text of the value that it parses to. Names in order and the
 * engine's own text prove it for nearly every entry; the rest is written anew and compared.
 */
export function isCanonical(text: string, value: Json | object): boolean {
  const isWritten = JSON.stringify(value) === text && hasSortedNames(value);
  return (isWritten && !text.includes('\\ud')) || canonicalText(value) === text;
}

/** SHA-256 of the text's UTF-8 bytes, in lower-case hexadecimal digits. */
export function sha256Hex(text: string | Uint8Array): string {
  return hash('sha256', text, 'hex');
}

/** The hash of an entry: SHA-256 over its canonical text, which holds the hash of the entry before. */
export function entryHash(text: string): string {
  return sha256Hex(text);
}

/** Reads an entry from a line of the journal and freezes it. */
export function parseEntry(line: { readonly text: string; readonly hash: string }): RecordedEntry {
  return deepFreeze({ ...(JSON.parse(line.text) as Entry), hash: line.hash });
}

/** Freezes a value of plain objects and arrays all the way down. */
function deepFreeze<Value>(value: Value): Value {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) deepFreeze(part);
  }
  return value;
}
