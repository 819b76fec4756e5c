import { MemoryStore } from '../../src/adapters/memory-store.ts';
import { coreRefusals } from '../../src/journal/authority.ts';
import { threeShifts } from '../../src/journal/shift.ts';
import { stations } from '../../src/main/stations.ts';
import type { Store } from '../../src/ports/store.ts';
import { chanceFrom } from '../chance.ts';
import { plantId } from '../demonstration/cast.ts';
import { demonstrationStart, localInstant } from '../demonstration/demonstration.ts';
import { dayAfter } from '../demonstration/founding.ts';
import { Crew, type Job } from './crew.ts';
import { type FaultKind, faultKinds } from './fault-kinds.ts';
import { benchesOf, calibrate, foundGround, pressesOf, renew } from './founding.ts';
import type { Ground, Obstacle, PlantSize, SearchMade } from './ground.ts';
import { Invariants } from './invariants.ts';
import { type FalseAlarm, Ledger, type Planted } from './ledger.ts';
import { plantMachineFaults } from './machine-faults.ts';
import { Pace, type PaceMark } from './pace.ts';
import { strike } from './press-work.ts';
import { ProvingBalances } from './proving-balances.ts';
import { type Breach, ProvingHand } from './proving-hand.ts';
import { ProvingPlant } from './proving-plant.ts';
import { putUp, setLeftoversAside } from './put-up-work.ts';
import { forgetWhatIsGone } from './retire.ts';
import { endShift } from './shift-end.ts';
import { standardsOf } from './standards.ts';
import { SteppingClock } from './stepping-clock.ts';
import { certifyAndSend } from './strong-room-work.ts';
import { supply } from './supply.ts';
import type { Timings } from './timings.ts';
import { World } from './world.ts';

/** A run of the proving ground. */
export interface ProofOptions {
  readonly seed: number;
  readonly days: number;
  readonly size: PlantSize;
  /** Rates of the kinds of fault, times this; 1 when left out. */
  readonly mix?: (kind: FaultKind) => number;
  /** The store under proof; memory when left out. */
  readonly store?: Store;
  /** Makes an empty store for books made anew; of memory when left out. */
  readonly emptyStore?: () => Store;
  /** False to leave the invariants unchecked, where only the work is measured. */
  readonly isChecked?: boolean;
  readonly onShift?: (shift: string) => void;
  /** Asked before the last shift of each day: true when the run is to end with it. */
  readonly isTimeUp?: () => boolean;
}

/** What came of a run. */
export interface Proof {
  readonly seed: number;
  readonly days: number;
  readonly shifts: number;
  readonly pieces: number;
  readonly planted: readonly Planted[];
  readonly falseAlarms: readonly FalseAlarm[];
  readonly searches: readonly SearchMade[];
  readonly obstacles: readonly Obstacle[];
  readonly breaches: readonly Breach[];
  readonly refusals: ReadonlyMap<string, number>;
  readonly commands: number;
  readonly entries: number;
  readonly restarts: number;
  readonly rebuilds: number;
  readonly stolen: number;
  /** Wall time of the work, and of the checks beside it. */
  readonly workSeconds: number;
  readonly checkSeconds: number;
  /** Processor time of the work; another load on the machine does not change it much. */
  readonly processorSeconds: number;
  readonly checkProcessorSeconds: number;
  readonly pace: readonly PaceMark[];
  readonly lastHash: string;
  readonly timings: { readonly commands: Timings; readonly questions: Timings };
}

/** The day on which a run begins. */
export const firstDay = '2026-03-02';

/** Every so many days all instruments are calibrated, and all approvals renewed. */
const calibrationDays = 30;
const renewalDays = 180;

/** What a client of the plant may be told. */
const declared: ReadonlySet<string> = new Set([
  ...Object.keys(coreRefusals),
  ...stations.flatMap(({ refusals }) => Object.keys(refusals)),
]);

/** A plant at its beginning, with everybody in it and nothing planted yet. */
export async function groundOf(
  options: Pick<ProofOptions, 'seed' | 'size' | 'mix' | 'store'>,
): Promise<Ground> {
  const clock = new SteppingClock(demonstrationStart(firstDay));
  const chance = chanceFrom(options.seed);
  // Faults have their own chance, so that one kind more or less leaves the work as it is.
  const ledger = new Ledger(chanceFrom(options.seed + 1_000_003), options.mix ?? (() => 1));
  const crew = new Crew(clock, chance);
  const plant = await ProvingPlant.open(options.store ?? new MemoryStore(plantId), clock);
  return {
    plant,
    crew,
    ledger,
    chance,
    hand: new ProvingHand({ plant, crew, ledger, declared }),
    balances: new ProvingBalances(ledger, chance),
    world: new World(),
    size: options.size,
    standards: standardsOf(options.size),
    searches: [],
    obstacles: [],
    mends: new Map(),
    shiftBegan: { entry: 0 },
    behind: new Map(),
    pressesAtWork: 0,
    idle: { melts: new Map(), shiftsBegan: [] },
    lateActs: [],
    attachments: { keep: () => Promise.reject(new Error('no photograph is kept here')) },
    melts: [],
    openTubes: new Map(),
    boxesPacked: [],
    boxesCertified: [],
    counters: new Map(),
    numbers: new Map(),
  };
}

/** Works so many days with everything that can go wrong, and holds the record to its promises. */
export async function prove(options: ProofOptions): Promise<Proof> {
  const ground = await groundOf(options);
  const { ledger } = ground;
  const invariants = new Invariants(ground, options.emptyStore ?? (() => new MemoryStore(plantId)));
  const spent = { workSeconds: 0, checkSeconds: 0, processorSeconds: 0, checkProcessorSeconds: 0 };
  const pace = new Pace(options.days);
  const timed = async (what: 'workSeconds' | 'checkSeconds', work: () => Promise<void>) => {
    const [from, processor] = [performance.now(), process.cpuUsage()];
    await work();
    spent[what] += (performance.now() - from) / 1000;
    const { user, system } = process.cpuUsage(processor);
    spent[what === 'workSeconds' ? 'processorSeconds' : 'checkProcessorSeconds'] +=
      (user + system) / 1e6;
  };
  await timed('workSeconds', () => workTogether(ground, [founding(ground)]));
  ground.crew.onTurn(() => plantMachineFaults(ground));
  let shifts = 0;
  let isOver = false;
  for (let day = 0; !isOver; day += 1) {
    for (const { name, startMinutes } of threeShifts) {
      const date = dayAfter(firstDay, day);
      ground.plant.clock.reach(localInstant(date, startMinutes + 5));
      ledger.shift = `${date}-${name}`;
      await timed('workSeconds', () => workShift(ground, { day, name }));
      shifts += 1;
      const isLastDay = day === options.days - 1 || (options.isTimeUp?.() ?? false);
      isOver = name === 'night' && isLastDay;
      const breaches = ground.hand.breaches.length;
      if (options.isChecked ?? true) {
        await timed('checkSeconds', () => invariants.check({ isLast: isOver }));
      }
      // Everything holds after the faults of the machine: that is how they are found harmless.
      if (ground.hand.breaches.length === breaches) ledger.found('machine', 'verification');
      options.onShift?.(ground.ledger.shift);
    }
    pace.dayEnded(day + 1, {
      commands: ground.hand.commands,
      work: spent.processorSeconds,
      check: spent.checkProcessorSeconds,
    });
  }
  const { rebuilds } = invariants;
  const days = shifts / threeShifts.length;
  return resultOf(ground, { ...options, days, shifts, rebuilds, pace: pace.marks, ...spent });
}

const founding = (ground: Ground): Job => ({
  name: 'founding',
  work: () => foundGround(ground, firstDay),
});

async function workTogether(ground: Ground, jobs: readonly Job[]): Promise<void> {
  for (const { job, error } of await ground.crew.work(jobs)) {
    ground.hand.breach(`${job} ended with ${error.message}`);
  }
}

async function workShift(ground: Ground, at: { day: number; name: string }): Promise<void> {
  const last = await ground.plant.store.reader.lastLine();
  ground.shiftBegan.entry = (last?.number ?? 0) + 1;
  ground.balances.beginShift();
  const presses = pressesOf(ground);
  ground.pressesAtWork = presses.length;
  const standards = [...new Set(presses.map(({ pieceStandard }) => pieceStandard))];
  await workTogether(ground, [
    ...supply(ground, standards),
    ...presses.map((press) => ({ name: press.press, work: () => strike(ground, press) })),
    ...benchesOf(ground).map((bench) => ({
      name: bench.custodian,
      work: () => putUp(ground, bench),
    })),
    ...(at.name === 'early' && at.day % calibrationDays === calibrationDays - 1
      ? [calibration(ground, at.day)]
      : []),
    ...(at.name === 'early' && at.day > 0 ? [strongRoom(ground, at.day, standards)] : []),
  ]);
  await workTogether(ground, [{ name: 'leftovers', work: () => setLeftoversAside(ground) }]);
  await workTogether(ground, [{ name: 'end of the shift', work: () => endShift(ground) }]);
  ground.plant.clock.step(0);
  forgetWhatIsGone(ground);
}

const calibration = (ground: Ground, day: number): Job => ({
  name: 'calibration',
  work: async () => {
    const date = dayAfter(firstDay, day);
    await calibrate(ground, date);
    if (day % renewalDays === renewalDays - 1) await renew(ground, date);
  },
});

const strongRoom = (ground: Ground, day: number, standards: readonly string[]): Job => ({
  name: 'strong room',
  work: () => certifyAndSend(ground, { standards, isSending: day % 2 === 0 }),
});

async function resultOf(
  ground: Ground,
  run: ProofOptions & {
    shifts: number;
    rebuilds: number;
    workSeconds: number;
    checkSeconds: number;
    processorSeconds: number;
    checkProcessorSeconds: number;
    pace: readonly PaceMark[];
  },
): Promise<Proof> {
  const last = await ground.plant.store.reader.lastLine();
  const { hand, ledger, searches, obstacles, plant, world } = ground;
  const { seed, days, shifts, rebuilds, pace, workSeconds, checkSeconds } = run;
  const { processorSeconds, checkProcessorSeconds } = run;
  return {
    seed,
    days,
    shifts,
    rebuilds,
    workSeconds,
    checkSeconds,
    processorSeconds,
    checkProcessorSeconds,
    pace,
    pieces: world.struck,
    planted: ledger.planted,
    falseAlarms: ledger.falseAlarms,
    searches,
    obstacles,
    breaches: hand.breaches,
    refusals: hand.refusals,
    commands: hand.commands,
    entries: last?.number ?? 0,
    restarts: plant.restarts,
    stolen: world.stolen,
    lastHash: last?.hash ?? '',
    timings: { commands: hand.timings, questions: plant.questionTimings },
  };
}

/** Whether a kind of fault is one of pieces that lie somewhere. */
export const movesPieces = (fault: Planted): boolean => faultKinds[fault.kind].movesPieces;
