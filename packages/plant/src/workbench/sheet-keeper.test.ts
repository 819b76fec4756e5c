import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  meetingOf,
  type SheetAtPlant,
  type SheetCopy,
  type SheetHere,
  SheetKeeper,
  type SheetPlace,
  type SheetSent,
} from './sheet-keeper.ts';

interface Sheet {
  readonly run: string;
  readonly portions: readonly string[];
}

const initial: Sheet = { run: '', portions: [] };
const keptAt = '2026-03-02T07:00:00.000Z';

/** A plant that keeps one sheet, and may be out of reach. */
class TrialPlace implements SheetPlace {
  sheet: SheetAtPlant | null = null;
  isReached = true;
  sent = 0;

  async find() {
    this.#reach();
    return this.sheet;
  }

  async keep({ revision, value }: { revision: number; value: object }): Promise<SheetSent> {
    this.#reach();
    this.sent += 1;
    if ((this.sheet?.revision ?? 0) !== revision) {
      return { outcome: 'changed elsewhere', sheet: this.sheet };
    }
    this.sheet = { value: value as never, revision: revision + 1, keptAt };
    return { outcome: 'kept', revision: revision + 1, keptAt };
  }

  async forget() {
    this.#reach();
    this.sheet = null;
  }

  #reach() {
    if (!this.isReached) throw new Error('The plant cannot be reached.');
  }
}

/** The storage of one browser. */
class TrialCopy implements SheetCopy<Sheet> {
  here: SheetHere<Sheet> | undefined;
  read() {
    return this.here;
  }
  write(here: SheetHere<Sheet> | undefined) {
    this.here = here;
  }
}

let place: TrialPlace;

function device(copy = new TrialCopy()) {
  const keeper = new SheetKeeper<Sheet>(place, copy, initial);
  keeper.open();
  return { keeper, copy, value: () => keeper.snapshot()[0], state: () => keeper.snapshot()[1] };
}

const pass = (milliseconds = 1000) => vi.advanceTimersByTimeAsync(milliseconds);

beforeEach(() => {
  vi.useFakeTimers();
  place = new TrialPlace();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('a half-filled sheet', () => {
  it('is at the plant soon after typing stops, and there on another device', async () => {
    const bench = device();
    await pass();
    expect(bench.state()).toEqual({ state: 'empty' });
    bench.keeper.change({ run: 'R' });
    bench.keeper.change({ run: 'R-1' });
    await pass();
    expect(place.sent).toBe(1);
    expect(bench.state()).toEqual({ state: 'kept', keptAt });
    const tablet = device();
    await pass();
    expect(tablet.value()).toEqual({ run: 'R-1', portions: [] });
  });

  it('waits in the browser while the plant is out of reach, and is sent when it is back', async () => {
    const bench = device();
    await pass();
    place.isReached = false;
    bench.keeper.change({ run: 'R-1' });
    await pass();
    expect(bench.state()).toMatchObject({ state: 'here only' });
    expect(bench.copy.here).toMatchObject({ value: { run: 'R-1' }, isUnsent: true });
    place.isReached = true;
    await pass(6000);
    expect(bench.state()).toEqual({ state: 'kept', keptAt });
    expect(place.sheet?.value).toMatchObject({ run: 'R-1' });
  });

  it('is shown from the browser where the plant is out of reach from the start', async () => {
    const copy = new TrialCopy();
    copy.here = { value: { run: 'R-1', portions: ['a'] }, revision: 1, isUnsent: false };
    place.isReached = false;
    const bench = device(copy);
    await pass();
    expect(bench.value()).toEqual({ run: 'R-1', portions: ['a'] });
    // The plant has a newer one from another device, and nothing was typed here meanwhile.
    place.sheet = { value: { run: 'R-1', portions: ['a', 'b'] }, revision: 2, keptAt };
    place.isReached = true;
    await pass(6000);
    expect(bench.value().portions).toEqual(['a', 'b']);
  });

  it('is emptied here and at the plant once it is recorded', async () => {
    const bench = device();
    await pass();
    bench.keeper.change({ run: 'R-1' });
    await pass();
    bench.keeper.clear();
    await pass();
    expect([bench.value(), bench.copy.here, place.sheet]).toEqual([initial, undefined, null]);
    bench.keeper.change({ run: 'R-2' });
    await pass();
    expect(place.sheet).toMatchObject({ value: { run: 'R-2' }, revision: 1 });
  });

  it('does not come back when it is recorded while it is on its way', async () => {
    const bench = device();
    await pass();
    bench.keeper.change({ run: 'R-1' });
    bench.keeper.close();
    bench.keeper.clear();
    await pass();
    expect(place.sheet).toBeNull();
    expect(bench.copy.here).toBeUndefined();
  });

  it('is a new one where it is typed into while the former is on its way', async () => {
    const bench = device();
    await pass();
    bench.keeper.change({ run: 'R-1' });
    bench.keeper.close();
    bench.keeper.clear();
    bench.keeper.change({ run: 'R-2' });
    await pass();
    expect(bench.state()).toEqual({ state: 'kept', keptAt });
    expect(place.sheet).toMatchObject({ value: { run: 'R-2' }, revision: 1 });
  });

  it('is sent at once when its page is left', async () => {
    const bench = device();
    await pass();
    bench.keeper.change({ run: 'R-1' });
    bench.keeper.close();
    await pass(0);
    expect(place.sheet?.value).toMatchObject({ run: 'R-1' });
  });
});

describe('a sheet that was changed on two devices', () => {
  async function bothChanged() {
    const bench = device();
    await pass();
    bench.keeper.change({ run: 'R-1' });
    await pass();
    const tablet = device();
    await pass();
    tablet.keeper.change({ portions: ['tablet'] });
    await pass();
    bench.keeper.change({ portions: ['bench'] });
    await pass();
    return { bench, tablet };
  }

  it('is not sent over the other, and says so', async () => {
    const { bench } = await bothChanged();
    expect(bench.state()).toMatchObject({ state: 'changed elsewhere', sheet: { revision: 2 } });
    expect(place.sheet?.value).toMatchObject({ portions: ['tablet'] });
    expect(bench.value().portions).toEqual(['bench']);
  });

  it('is the other one, or this one, as the hand says', async () => {
    const { bench } = await bothChanged();
    bench.keeper.takeOther();
    expect(bench.value().portions).toEqual(['tablet']);
    const again = await bothChanged();
    again.bench.keeper.keepThis();
    await pass();
    expect(place.sheet?.value).toMatchObject({ portions: ['bench'] });
  });

  it('is told of where it was recorded on the other', async () => {
    const bench = device();
    await pass();
    bench.keeper.change({ run: 'R-1' });
    await pass();
    place.sheet = null;
    bench.keeper.change({ run: 'R-2' });
    await pass();
    expect(bench.state()).toEqual({ state: 'changed elsewhere', sheet: null });
    bench.keeper.takeOther();
    expect([bench.value(), bench.copy.here]).toEqual([initial, undefined]);
  });
});

describe('the meeting of two copies', () => {
  const here = (revision: number, isUnsent: boolean) => ({ value: initial, revision, isUnsent });
  const atPlant = (revision: number) => ({ value: {}, revision, keptAt });

  it.each([
    ['nothing anywhere', undefined, null, 'nothing'],
    ['only at the plant', undefined, atPlant(3), 'take'],
    ['unchanged here', here(2, false), atPlant(3), 'take'],
    ['unsent here, known at the plant', here(3, true), atPlant(3), 'send'],
    ['unsent here, changed elsewhere', here(2, true), atPlant(3), 'ask'],
    ['unsent here, never sent', here(0, true), null, 'send'],
    ['unsent here, gone at the plant', here(2, true), null, 'ask'],
    ['unchanged here, gone at the plant', here(2, false), null, 'empty'],
  ] as const)('of %s', (_what, mine, other, outcome) => {
    expect(meetingOf(mine, other)).toBe(outcome);
  });
});
