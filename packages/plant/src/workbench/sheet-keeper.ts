import type { JsonObject } from '../ports/json.ts';

/** A half-filled sheet as the plant keeps it. */
export interface SheetAtPlant {
  readonly value: JsonObject;
  readonly revision: number;
  readonly keptAt: string;
}

/** What came of sending a sheet to the plant. */
export type SheetSent =
  | { readonly outcome: 'kept'; readonly revision: number; readonly keptAt: string }
  | { readonly outcome: 'changed elsewhere'; readonly sheet: SheetAtPlant | null }
  | { readonly outcome: 'refused'; readonly words: string };

/** The plant, as far as it keeps one sheet; it throws when it cannot be reached. */
export interface SheetPlace {
  find(): Promise<SheetAtPlant | null>;
  keep(sheet: { readonly revision: number; readonly value: object }): Promise<SheetSent>;
  forget(): Promise<void>;
}

/** The copy in the browser: what is shown, on what it rests, and whether the plant has it. */
export interface SheetHere<Value> {
  readonly value: Value;
  /** Revision at the plant that it rests on; 0 where there is none. */
  readonly revision: number;
  readonly isUnsent: boolean;
}

/** The browser, as far as it keeps one sheet. */
export interface SheetCopy<Value> {
  read(): SheetHere<Value> | undefined;
  write(here: SheetHere<Value> | undefined): void;
}

export type SheetState =
  /** The plant is being asked whether it has the sheet. */
  | { readonly state: 'asking' }
  /** Nothing has been typed yet. */
  | { readonly state: 'empty' }
  | { readonly state: 'sending' }
  | { readonly state: 'kept'; readonly keptAt: string }
  /** In this browser only, and why. */
  | { readonly state: 'here only'; readonly words: string }
  /** Changed on another device since; null when it was recorded or emptied there. */
  | { readonly state: 'changed elsewhere'; readonly sheet: SheetAtPlant | null };

/** What to do with the two copies of a sheet when its page is opened. */
export function meetingOf(
  here: SheetHere<unknown> | undefined,
  atPlant: SheetAtPlant | null,
): 'take' | 'send' | 'empty' | 'ask' | 'nothing' {
  const isUnsent = here?.isUnsent ?? false;
  if (!atPlant) {
    if (isUnsent) return here?.revision === 0 ? 'send' : 'ask';
    return here ? 'empty' : 'nothing';
  }
  if (!isUnsent) return 'take';
  return here?.revision === atPlant.revision ? 'send' : 'ask';
}

/** Pauses in typing that are shorter send nothing. */
const pauseMilliseconds = 700;
/** How long until a plant that could not be reached is tried again. */
const retryMilliseconds = 5000;

/**
 * Keeps a half-filled sheet at the plant while it is typed, and a copy of it in the browser for the
 * time that the plant cannot be reached. Never sends over what was changed on another device.
 */
export class SheetKeeper<Value extends object> {
  readonly #place: SheetPlace;
  readonly #copy: SheetCopy<Value>;
  readonly #initial: Value;
  readonly #listeners = new Set<() => void>();
  #here: SheetHere<Value>;
  #state: SheetState = { state: 'asking' };
  #snapshot: readonly [Value, SheetState];
  /** One thing after another: nothing is sent while something is on its way. */
  #queue: Promise<void> = Promise.resolve();
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** Counts up when the sheet becomes another one: what is on its way then belongs to the former. */
  #epoch = 0;
  #isOpen = false;
  #hasMet = false;

  constructor(place: SheetPlace, copy: SheetCopy<Value>, initial: Value) {
    this.#place = place;
    this.#copy = copy;
    this.#initial = initial;
    const stored = copy.read();
    this.#here = stored
      ? { ...stored, value: { ...initial, ...stored.value } }
      : { value: initial, revision: 0, isUnsent: false };
    this.#snapshot = [this.#here.value, this.#state];
  }

  /** What is shown and where it is kept; the same object until something changes. */
  readonly snapshot = (): readonly [Value, SheetState] => this.#snapshot;

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  open(): void {
    this.#isOpen = true;
    this.#enqueue(() => this.#meet());
  }

  /** Stops; what has not been sent yet is sent at once. */
  close(): void {
    this.#isOpen = false;
    clearTimeout(this.#timer);
    if (this.#hasMet && this.#here.isUnsent) this.#enqueueSend();
  }

  change(part: Partial<Value>): void {
    this.#put({ ...this.#here, value: { ...this.#here.value, ...part }, isUnsent: true });
    if (this.#hasMet && this.#state.state !== 'changed elsewhere') this.#later(pauseMilliseconds);
  }

  /** Empties the sheet, here and at the plant: it was recorded. */
  clear(): void {
    clearTimeout(this.#timer);
    this.#epoch += 1;
    this.#copy.write(undefined);
    this.#here = { value: this.#initial, revision: 0, isUnsent: false };
    this.#tell({ state: 'empty' });
    this.#enqueue(async () => {
      await this.#place.forget();
    });
  }

  /** Takes what another device has made of the sheet. */
  takeOther(): void {
    if (this.#state.state !== 'changed elsewhere') return;
    this.#take(this.#state.sheet);
  }

  /** Lets this device's sheet stand in the place of the other. */
  keepThis(): void {
    if (this.#state.state !== 'changed elsewhere') return;
    const revision = this.#state.sheet?.revision ?? 0;
    this.#put({ ...this.#here, revision, isUnsent: true });
    this.#enqueueSend();
  }

  async #meet(): Promise<void> {
    const atPlant = await this.#place.find();
    const here = this.#isUntouched() ? undefined : this.#here;
    this.#hasMet = true;
    switch (meetingOf(here, atPlant)) {
      case 'take':
        return this.#take(atPlant);
      case 'send':
        return this.#send();
      case 'empty':
        return this.#take(null);
      case 'ask':
        return this.#tell({ state: 'changed elsewhere', sheet: atPlant });
      case 'nothing':
        return this.#tell({ state: 'empty' });
    }
  }

  #isUntouched(): boolean {
    return !this.#here.isUnsent && this.#here.revision === 0;
  }

  #take(sheet: SheetAtPlant | null): void {
    clearTimeout(this.#timer);
    this.#epoch += 1;
    const value = sheet ? { ...this.#initial, ...(sheet.value as Value) } : this.#initial;
    this.#here = { value, revision: sheet?.revision ?? 0, isUnsent: false };
    this.#copy.write(sheet ? this.#here : undefined);
    this.#tell(sheet ? { state: 'kept', keptAt: sheet.keptAt } : { state: 'empty' });
  }

  async #send(): Promise<void> {
    const { value, revision, isUnsent } = this.#here;
    const epoch = this.#epoch;
    if (!isUnsent) return;
    this.#tell({ state: 'sending' });
    const sent = await this.#place.keep({ revision, value });
    if (epoch !== this.#epoch) return;
    if (sent.outcome === 'refused') return this.#tell({ state: 'here only', words: sent.words });
    if (sent.outcome === 'changed elsewhere') {
      return this.#tell({ state: 'changed elsewhere', sheet: sent.sheet });
    }
    const isUnsentStill = this.#here.value !== value;
    this.#here = { ...this.#here, revision: sent.revision, isUnsent: isUnsentStill };
    this.#copy.write(this.#here);
    this.#tell({ state: 'kept', keptAt: sent.keptAt });
    if (isUnsentStill) this.#later(pauseMilliseconds);
  }

  #put(here: SheetHere<Value>): void {
    this.#here = here;
    this.#copy.write(here);
    this.#tell(this.#state.state === 'empty' ? { state: 'sending' } : this.#state);
  }

  #later(milliseconds: number): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      if (this.#hasMet) this.#enqueueSend();
      else this.#enqueue(() => this.#meet());
    }, milliseconds);
  }

  /** Sends once its turn comes, unless the sheet has become another one until then. */
  #enqueueSend(): void {
    const epoch = this.#epoch;
    this.#enqueue(async () => {
      if (epoch === this.#epoch) await this.#send();
    });
  }

  #enqueue(work: () => Promise<void>): void {
    this.#queue = this.#queue.then(work).catch((error: Error) => {
      this.#tell({ state: 'here only', words: error.message });
      if (this.#isOpen) this.#later(retryMilliseconds);
    });
  }

  #tell(state: SheetState): void {
    this.#state = state;
    this.#snapshot = [this.#here.value, state];
    for (const listener of this.#listeners) listener();
  }
}
