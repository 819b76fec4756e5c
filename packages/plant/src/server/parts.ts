import type { BookReader } from '../journal/books.ts';
import type { Registry } from '../journal/plant.ts';
import type { Recorder } from '../journal/recorder.ts';
import type { Person, Question } from '../journal/station.ts';
import type { Accounts } from '../ports/accounts.ts';
import type { Attachments } from '../ports/attachments.ts';
import type { Clock } from '../ports/clock.ts';
import type { InstrumentLines, Measurement } from '../ports/instrument-line.ts';
import type { KeptSheets } from '../ports/kept-sheets.ts';
import type { Signer } from '../ports/signer.ts';
import type { StoreReader } from '../ports/store.ts';

/** The parts of a plant that the server lays open. */
export interface ServerParts {
  readonly plant: string;
  /** The plant's name as people read it. */
  readonly plantTitle: () => Promise<string>;
  readonly reader: StoreReader;
  readonly books: BookReader;
  readonly registry: Registry;
  readonly recorder: Recorder;
  readonly accounts: Accounts;
  readonly attachments: Attachments;
  /** Half-filled sheets of people; none are kept when left out. */
  readonly sheets?: KeptSheets;
  readonly signer: Signer;
  readonly clock: Clock;
  /** Instruments that stand on lines of their own; none when left out. */
  readonly instrumentLines?: InstrumentLines;
  /** What an instrument of the register measures; nothing when it is unknown or measures otherwise. */
  readonly measures?: (instrument: string) => Promise<Measurement | undefined>;
  readonly person: (books: BookReader, id: string) => Promise<Person | undefined>;
  /** Questions that belong to no station. */
  readonly coreQuestions: readonly Question[];
  /** Folder of the built workbench; without it only the interface answers. */
  readonly workbenchFolder?: string;
  /** What is written to the standard output as lines of JSON; faults when left out. */
  readonly log?: 'requests' | 'faults' | 'nothing';
  /** True where people reach the server over HTTPS, as behind a proxy: the session goes that way only. */
  readonly isBehindHttps?: boolean;
}
