import { heron, lantern } from '../simulation/demonstration/cast.ts';
import type { Ground } from '../simulation/proving-ground/ground.ts';
import type { SqliteStore } from '../src/adapters/sqlite-store.ts';
import { coreQuestions } from '../src/journal/core-questions.ts';
import type { Inquirer } from '../src/journal/station.ts';
import { personForRecorder } from '../src/main/founder.ts';
import { median, timed } from './measurement.ts';

/** What the screens that people look at all day ask; each stands in the table however fast it is. */
const screens: Readonly<Record<string, string>> = {
  line: 'the line above every page',
  docket: 'docket',
  'receiving-desk': 'desk of receiving',
  'laboratory-desk': 'desk of the laboratory',
  'press-room-desk': 'desk of the press room',
  'put-up-desk': 'desk of put-up',
  'balance-desk': 'desk of the account',
  'certificate-desk': 'desk of certificates',
  'registers-desk': 'registers',
  'melt-trial': 'page of a melt',
  'melt-examinations': 'examinations of a melt',
  'control-charts': 'list of control charts',
  'control-chart': 'a control chart',
  'laboratory-metal': 'metal of the laboratory',
  holds: 'list of holds',
  'results-hold': 'a hold',
  'instrument-checks': 'checks of an instrument',
  searches: 'list of searches',
  periods: 'list of days and months',
  consignment: 'a consignment',
  lineage: 'the story of a melt',
  entries: 'the journal',
};

/** How long a question took: the middle one of some rounds. */
interface Wait {
  readonly question: string;
  readonly milliseconds: number;
  /** Of the processor alone: what others do on the machine is not in it. */
  readonly processorMilliseconds: number;
}

/** Inputs of the questions that speak of one thing: of the newest and of one from the middle. */
function detailsOf(
  ground: Ground,
  holds: readonly string[],
): ReadonlyMap<string, readonly object[]> {
  const { melts } = ground.world;
  const some = [melts.at(-1), melts.at(melts.length >> 1)].flatMap((melt) => melt ?? []);
  const ofMelt = some.map((melt) => ({ melt: melt.truth.melt }));
  const chart = (subject: string) => ({ chart: `${subject}.${lantern.pieceStandard}` });
  return new Map<string, readonly object[]>([
    ['melt-trial', ofMelt],
    ['melt-examinations', ofMelt],
    ['lineage', some.map((melt) => ({ thing: 'melt', id: melt.truth.melt }))],
    ['find-code', some.map((melt) => ({ code: melt.truth.melt }))],
    ['consignment', some.map(({ consignment }) => ({ consignment }))],
    ['material-certificates', some.map(({ consignment }) => ({ consignment }))],
    ['control-chart', [chart('proof-correction'), chart('duplicate-range')]],
    ['inspection-series', [{ supplier: 'fennel', pieceStandard: heron.pieceStandard }]],
    ['instrument-checks', [{ instrument: 'BAL-L2' }]],
    ['results-hold', holds.map((hold) => ({ hold }))],
    ['entries', [{ limit: 50 }]],
  ]);
}

const rounds = 5;

/** How long each question takes: those without input, and those about a thing that is named here. */
export async function askAll(
  ground: Ground,
  store: SqliteStore,
): Promise<{ readonly waits: readonly Wait[]; readonly silent: readonly string[] }> {
  const { registry, books, clock } = ground.plant;
  const person = await personForRecorder(books, 'orla');
  if (!person) throw new Error('nobody asks');
  const inquirer: Inquirer = { person, instant: new Date(clock.now()).toISOString() };
  const questions = [
    ...coreQuestions({ stations: registry.stations, reader: store.reader, kind: registry.kind }),
    ...registry.stations.flatMap((one) => one.questions),
  ];
  const list = questions.find(({ question }) => question === 'holds');
  const holds = ((await list?.answer(books, {}, inquirer)) ?? []) as { hold: string }[];
  const newest = holds.slice(0, 1).map(({ hold }) => hold);
  const details = detailsOf(ground, newest);
  const waits: Wait[] = [];
  const silent: string[] = [];
  for (const { question, input, answer } of questions) {
    const inputs = details.get(question) ?? (input.safeParse({}).success ? [{}] : []);
    if (inputs.length === 0) silent.push(question);
    const asked: Omit<Wait, 'question'>[] = [];
    for (const one of inputs) {
      asked.push(await rounded(() => answer(books, input.parse(one), inquirer)));
    }
    const [slowest] = asked.sort((one, other) => other.milliseconds - one.milliseconds);
    if (slowest) waits.push({ question, ...slowest });
  }
  return { waits, silent };
}

/** The middle one of some rounds, by the clock and by the processor. */
async function rounded(ask: () => Promise<unknown>): Promise<Omit<Wait, 'question'>> {
  const clock: number[] = [];
  const processor: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    const before = process.cpuUsage();
    clock.push((await timed(ask)).seconds * 1000);
    const { user, system } = process.cpuUsage(before);
    processor.push((user + system) / 1000);
  }
  return { milliseconds: median(clock), processorMilliseconds: median(processor) };
}

/** Other questions stand in the table when they take so long. */
const slowMilliseconds = 10;

/** The waits that the table shows, the longest first, each by the name of its screen. */
export function shownWaits(
  waits: readonly Wait[],
): readonly (Omit<Wait, 'question'> & { readonly screen: string })[] {
  return waits
    .filter(({ question, milliseconds }) => question in screens || milliseconds >= slowMilliseconds)
    .sort((one, other) => other.milliseconds - one.milliseconds)
    .map(({ question, ...wait }) => ({
      screen: screens[question] ?? `question ${question}`,
      ...wait,
    }));
}
