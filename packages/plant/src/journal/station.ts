import type { z } from 'zod';
import type { Json, JsonObject } from '../ports/json.ts';
import type { Signer } from '../ports/signer.ts';
import type { Book, BookReader, BookWriter } from './books.ts';
import type { Descent, RecordedEntry, Thing } from './entry.ts';
import type { SignedHead } from './head.ts';
import type { InclusionProof } from './merkle.ts';
import type { Posting } from './posting.ts';
import type { Refusal, RefusalMeanings } from './refusal.ts';
import type { Weighed } from './weighed.ts';

/** What people may be in the plant. */
export const roles = [
  'chief assayer',
  'assayer',
  'inspector',
  'custodian',
  'die keeper',
  'metal accountant',
  'auditor',
] as const;

export type Role = (typeof roles)[number];

/** A person as the rules see one. */
export interface Person {
  readonly person: string;
  readonly name: string;
  readonly roles: readonly Role[];
  /** False once the person has left. */
  readonly active: boolean;
}

/** The circumstances of a command: who, when, with whom. */
export interface Circumstances {
  readonly plant: string;
  readonly author: Person;
  readonly witness: Person | null;
  /** UTC, ISO 8601 with milliseconds. */
  readonly instant: string;
  readonly shift: string;
  /** Number that the first entry of this command will bear. */
  readonly nextNumber: number;
}

/** An entry as a rule states it; the recorder adds number, time, people and hashes. */
export interface Draft<Body extends JsonObject = JsonObject> {
  readonly kind: EntryKind<Body>;
  readonly body: Body;
  readonly instrument?: string;
  readonly corrects?: number;
  readonly reason?: string;
}

/** What a rule answers: entries to record, or the reasons why not, most important first. */
export type Decision =
  | { readonly entries: readonly Draft[]; readonly answer?: JsonObject }
  | { readonly refusals: readonly Refusal[] };

/** A kind of entry: the act in the plant that it records and what follows from it. */
export interface EntryKind<Body extends JsonObject = JsonObject> {
  /** Past event in Pascal case, unique in the plant: `DrumWeighed`. */
  readonly kind: string;
  readonly version: number;
  readonly station: string;
  /** Which act it records, who may make it and what it can never mean. */
  readonly meaning: string;
  readonly body: z.ZodType<Body>;
  /** The metal it moves; a kind without this declaration does not register. */
  readonly postings: 'moves nothing' | ((body: Body) => readonly Posting[]);
  /** The things it speaks of, for lineage. */
  readonly things: (body: Body) => readonly Thing[];
  /** What came out of what by this act. */
  readonly descents?: (body: Body) => readonly Descent[];
  /** Further instruments whose readings the body holds, beside the one that the entry names. */
  readonly instruments?: (body: Body) => readonly string[];
  /**
   * The weighings of which the masses of its postings are sums, one list for each posting in their
   * order. Where it is left out, each mass was weighed once on the instrument that the entry names.
   */
  readonly weighings?: (body: Body, books: BookReader) => Promise<readonly (readonly Weighed[])[]>;
  /** Derives the station's own books. Pure but for the books. */
  readonly apply: (books: BookWriter, entry: RecordedEntry<Body>) => Promise<void>;
  /** The roles that may read the body outside of the station's own questions; everybody when left out. */
  readonly readableBy?: readonly Role[];
  /** True when the tree head is signed at once after this entry. */
  readonly signsHead?: boolean;
}

/** Ties the types of a kind together. */
export function defineKind<Body extends JsonObject>(kind: EntryKind<Body>): EntryKind<Body> {
  return Object.freeze(kind);
}

/** A draft of that kind, in the type that a decision holds. */
export function draft<Body extends JsonObject>(
  kind: EntryKind<Body>,
  body: Body,
  more: { instrument?: string; corrects?: number; reason?: string } = {},
): Draft {
  return { kind, body, ...more } as unknown as Draft;
}

/** Runs a calculation of the catalogue where it keeps nobody waiting, and answers its output. */
export type Calculate = (id: string, input: object) => Promise<object>;

/** A command: what a person asks the plant to record. */
export interface Command<Input = unknown, Facts = unknown, Prepared = unknown> {
  /** Imperative in kebab case, unique in the plant: `weigh-drum`. */
  readonly command: string;
  readonly station: string;
  readonly title: string;
  readonly input: z.ZodType<Input>;
  /** Who may ask for it. */
  readonly roles: readonly Role[];
  /** Whether the author signs by proving who he is once more, and whether a second person does too. */
  readonly signature: 'none' | 'author' | 'author and witness';
  readonly witnessRoles?: readonly Role[];
  /**
   * Works out what takes long before the command has its turn, so that no other command waits for it. The books
   * can have moved on by then: what a rule takes from here says as of which entry it holds.
   */
  readonly prepare?: (
    books: BookReader,
    input: Input,
    calculate: Calculate | undefined,
  ) => Promise<Prepared>;
  /** Reads the books for what the rule needs to know; beside it what was prepared, where something was. */
  readonly facts: (
    books: BookReader,
    input: Input,
    circumstances: Circumstances,
    prepared?: Prepared,
  ) => Promise<Facts>;
  /** The rule: pure. */
  readonly decide: (input: Input, facts: Facts, circumstances: Circumstances) => Decision;
}

/** Ties the types of a command together. */
export function defineCommand<Input, Facts, Prepared = unknown>(
  command: Command<Input, Facts, Prepared>,
): Command {
  return Object.freeze(command) as unknown as Command;
}

/** Who asks a question, and when. */
export interface Inquirer {
  readonly person: Person;
  readonly instant: string;
  /** Where it is left out, a question calculates in place; the answer is the same. */
  readonly calculate?: Calculate;
}

/** A question that a screen asks of the books. */
export interface Question<Input = unknown> {
  /** Kebab case, unique in the plant. */
  readonly question: string;
  readonly station: string;
  readonly input: z.ZodType<Input>;
  readonly answer: (books: BookReader, input: Input, inquirer: Inquirer) => Promise<Json>;
}

/** Ties the types of a question together. */
export function defineQuestion<Input>(question: Question<Input>): Question {
  return Object.freeze(question) as unknown as Question;
}

/** A paper on the docket: something that waits for a decision. */
export interface DocketPaper {
  /** Unique id of the paper, stable while it waits. */
  readonly paper: string;
  readonly station: string;
  /** What waits, in a sentence with its figures. */
  readonly what: string;
  /** Why it waits now. */
  readonly why: string;
  /** What it holds up. */
  readonly holdsUp: string;
  /** The act that takes the paper off, by verb and object. */
  readonly act: string;
  /** Path in the workbench where the act is done, as `/laboratory/melts/M-1`. */
  readonly path: string;
  /** Since when it waits: ISO 8601. */
  readonly since: string;
  readonly weight: 'look' | 'stopped';
  /** The roles that may read it; everybody when left out. */
  readonly readableBy?: readonly Role[];
  /** What it says to all others; they get no such paper when this is left out. */
  readonly toOthers?: Pick<DocketPaper, 'what' | 'why' | 'holdsUp' | 'weight'>;
}

/** What the record proves of one entry: the newest head that covers it, and the way from entry to head. */
export interface EntryProof {
  readonly entryText: string;
  readonly entryHash: string;
  readonly head: SignedHead;
  readonly proof: InclusionProof;
}

/** What a paper may draw on beside the books. */
export interface PaperSources {
  readonly books: BookReader;
  readonly instant: string;
  /** Signs as the plant; the same bytes give the same signature. */
  readonly signer: Signer;
  /** Proof that an entry is in the journal; nothing while no signed head covers it. */
  readonly proofOf: (entry: number) => Promise<EntryProof | undefined>;
}

/** A paper that a station prints or hands out: a label, a receipt, a certificate. */
export interface Paper {
  /** Kebab case, unique in the plant: `box-label`. */
  readonly paper: string;
  readonly station: string;
  readonly title: string;
  /** The roles that may read it; everybody when left out. */
  readonly readableBy?: readonly Role[];
  /** Makes the paper of the thing with that id; nothing when there is no such thing. */
  readonly render: (
    sources: PaperSources,
    id: string,
  ) => Promise<{ mediaType: string; fileName: string; bytes: Uint8Array } | undefined>;
}

/** A station as it registers with the plant. */
export interface Station {
  readonly station: string;
  readonly title: string;
  // biome-ignore lint/suspicious/noExplicitAny: a list of kinds with different bodies has no common type
  readonly kinds: readonly EntryKind<any>[];
  // biome-ignore lint/suspicious/noExplicitAny: a list of books with different rows has no common type
  readonly books: readonly Book<any>[];
  readonly commands: readonly Command[];
  readonly questions: readonly Question[];
  readonly refusals: RefusalMeanings;
  readonly papers?: readonly Paper[];
  /** What waits at this station. */
  readonly docket?: (books: BookReader, instant: string) => Promise<readonly DocketPaper[]>;
}
