import { checkSignature } from '../../src/adapters/plant-keys.ts';
import { type BookReader, bookReader } from '../../src/journal/books.ts';
import { type Registry, registerStations } from '../../src/journal/plant.ts';
import { Recorder } from '../../src/journal/recorder.ts';
import { threeShifts } from '../../src/journal/shift.ts';
import { signerFromSeed } from '../../src/journal/trial.ts';
import { type Verification, verifyJournal } from '../../src/journal/verify.ts';
import { personForRecorder } from '../../src/main/founder.ts';
import { stations } from '../../src/main/stations.ts';
import type { Store } from '../../src/ports/store.ts';
import { plantTimeZone } from '../demonstration/cast.ts';
import { MortalStore } from './mortal-store.ts';
import type { SteppingClock } from './stepping-clock.ts';
import { Timings } from './timings.ts';

const signer = signerFromSeed('5c'.repeat(32));

/** The plant under proof: every station and the real recorder, over a store that outlives its process. */
export class ProvingPlant {
  readonly registry: Registry = registerStations(stations);
  readonly clock: SteppingClock;
  readonly #beneath: Store;
  #process: { readonly store: MortalStore; readonly recorder: Recorder };
  /** How often the process was started anew. */
  restarts = 0;
  readonly questionTimings = new Timings();

  private constructor(beneath: Store, clock: SteppingClock) {
    this.#beneath = beneath;
    this.clock = clock;
    this.#process = this.#start();
  }

  static async open(beneath: Store, clock: SteppingClock): Promise<ProvingPlant> {
    const plant = new ProvingPlant(beneath, clock);
    await beneath.prepare(plant.registry.books);
    return plant;
  }

  get recorder(): Recorder {
    return this.#process.recorder;
  }

  /** The store as the present process holds it. */
  get mortal(): MortalStore {
    return this.#process.store;
  }

  get store(): Store {
    return this.#beneath;
  }

  get books(): BookReader {
    return bookReader(this.#beneath.reader);
  }

  /** Starts the process anew when it is the one that was killed; others may have done so already. */
  restartAfter(killed: Recorder): void {
    if (killed !== this.recorder) return;
    this.restarts += 1;
    this.#process = this.#start();
  }

  /** The answer to a question as that person sees it. */
  async question(name: string, input: unknown, id: string): Promise<unknown> {
    const question = this.registry.question(name);
    const person = await personForRecorder(this.books, id);
    if (!question || !person) throw new RangeError(`no question ${name} or no person ${id}`);
    const instant = new Date(this.clock.now()).toISOString();
    return this.questionTimings.of(name, () =>
      question.answer(this.books, question.input.parse(input), { person, instant }),
    );
  }

  verify(): Promise<Verification> {
    const { publicKey } = signer;
    return verifyJournal(this.#beneath, { registry: this.registry, checkSignature, publicKey });
  }

  #start(): { store: MortalStore; recorder: Recorder } {
    const store = new MortalStore(this.#beneath);
    const recorder = new Recorder({
      store,
      registry: this.registry,
      clock: this.clock,
      signer,
      calendar: { timeZone: plantTimeZone, shifts: threeShifts },
      person: personForRecorder,
    });
    return { store, recorder };
  }
}
