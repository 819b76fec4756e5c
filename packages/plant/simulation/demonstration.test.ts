import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FolderAttachments } from '../src/adapters/attachments.ts';
import { checkSignature } from '../src/adapters/plant-keys.ts';
import { openSqliteSnapshot } from '../src/adapters/sqlite-store.ts';
import { bookReader } from '../src/journal/books.ts';
import { balanceOfPlace } from '../src/journal/core-books.ts';
import { registerStations } from '../src/journal/plant.ts';
import { verifyJournal } from '../src/journal/verify.ts';
import { plantFiles } from '../src/main/plant.ts';
import { stations } from '../src/main/stations.ts';
import type { ReadableStore } from '../src/ports/store.ts';
import { auditAccount } from '../src/stations/account/auditor.ts';
import { plantId } from './demonstration/cast.ts';
import { makeDemonstration } from './make-demonstration.ts';

/** A cost that only a test may choose: the passwords of this plant protect nothing. */
const hashCost = { memoryKibibytes: 64, passes: 1 };
const folder = mkdtempSync(join(tmpdir(), 'cupel-demonstration-'));
const lastDay = '2026-03-15';

const make = (name: string, seed: number) =>
  makeDemonstration({ folder: join(folder, name), seed, lastDay, hashCost });

const instant = '2026-03-16T08:00:00.000Z';
let first: Awaited<ReturnType<typeof make>>;
let store: ReadableStore;

beforeAll(async () => {
  first = await make('first', 1);
  store = openSqliteSnapshot({ plant: plantId, path: join(folder, 'first', plantFiles.store) });
}, 120_000);

afterAll(async () => {
  await store.close();
  rmSync(folder, { recursive: true });
});

/** Bodies of the entries of that kind, in their order. */
const bodiesOf = async <Body>(wanted: string): Promise<Body[]> => {
  const lines = await store.reader.lines(1, first.entries + 1);
  return lines
    .map(({ text }) => JSON.parse(text) as { kind: string; body: Body })
    .filter(({ kind }) => kind === wanted)
    .map(({ body }) => body);
};

const papers = async (): Promise<string[]> => {
  const found = [];
  for (const { docket } of stations) {
    for (const paper of (await docket?.(bookReader(store.reader), instant)) ?? [])
      found.push(paper.what);
  }
  return found;
};

describe('the demonstration plant', () => {
  it('has the same last hash for the same seed and day, and another for another seed', async () => {
    const again = await make('again', 1);
    expect(again.headHash).toBe(first.headHash);
    const other = await make('other', 2);
    expect(other.headHash).not.toBe(first.headHash);
  }, 120_000);

  it('verifies from the first entry to the last', async () => {
    const registry = registerStations(stations);
    const found = await verifyJournal(store, { registry, checkSignature });
    expect(found).toMatchObject({ holds: true, entries: first.entries });
    const audit = await auditAccount(store.reader, bookReader(store.reader));
    expect(audit.faults).toEqual([]);
  });

  it('has finished certificates, and boxes that have left', async () => {
    const books = bookReader(store.reader);
    const gone = await balanceOfPlace(books, 'with-purchaser');
    expect(gone.reduce((sum, row) => sum + row.pieces, 0)).toBeGreaterThan(1000);
    const kinds = new Set<string>();
    for (const line of await store.reader.lines(1, first.entries + 1)) {
      kinds.add((JSON.parse(line.text) as { kind: string }).kind);
    }
    expect([...kinds]).toEqual(
      expect.arrayContaining([
        'CertificateIssued',
        'BoxesDispatched',
        'MeltReturned',
        'ShiftClosed',
      ]),
    );
  });

  it('shows its planted faults on the docket', async () => {
    const found = (await papers()).join('\n');
    // One melt just under its fineness, one that stays undecided.
    expect(found).toMatch(/verdict fails/);
    expect(found).toMatch(/verdict undecided/);
    // A die that cracked between two checks.
    expect(found).toMatch(/held after strike 200 .* crack/);
    // A tube with nineteen.
    expect(found).toMatch(/TS09019/);
    // A move signed by one side only.
    expect(found).toMatch(/signed by one side only/);
    // The open shift in which a piece is missing.
    expect(found).toMatch(/put-up/);
  });

  it('has brought a supplier to tightened inspection, with the reason', async () => {
    const lines = await store.reader.lines(1, first.entries + 1);
    const orders = lines
      .map((line) => JSON.parse(line.text) as { kind: string; body: Record<string, string> })
      .filter(({ kind }) => kind === 'SamplesOrdered')
      .map(({ body }) => ({ severity: body['severity'], reason: body['severityReason'] }));
    expect(orders.map(({ severity }) => severity)).toContain('tightened');
    expect(orders.find(({ severity }) => severity === 'tightened')?.reason).toMatch(/FS-/);
  });

  it('leaves its last shift open', async () => {
    const lines = await store.reader.lines(1, first.entries + 1);
    const closed = lines
      .map((line) => JSON.parse(line.text) as { kind: string; body: { shift?: string } })
      .filter(({ kind }) => kind === 'ShiftClosed')
      .map(({ body }) => body.shift);
    // Thirteen whole days of three shifts, and the early shift of the last day.
    expect(closed).toHaveLength(40);
    expect(closed).not.toContain(`${lastDay}-late`);
  });

  it('reads calmly on its docket: few papers, and none about what it forgot to state', async () => {
    const found = await papers();
    expect(found.length).toBeLessThanOrEqual(15);
    expect(found.join('\n')).not.toMatch(
      /State the method|stand beside the book|Rack|series|drift|signals/,
    );
  });
});

interface Run {
  readonly melt: string;
  readonly state: string;
  readonly voidReason: string | null;
  readonly method?: { readonly method: string; readonly edition: number };
  readonly reagentLots?: readonly string[];
  readonly controls?: {
    readonly references: readonly {
      readonly comparisons: readonly { readonly quantity: string }[];
    }[];
    readonly blanks: readonly unknown[];
  };
}

describe('the laboratory of the demonstration', () => {
  it('states its methods and makes every run by one, with controls and lots', async () => {
    const stated = await bodiesOf<{ method: string; edition: number }>('MethodStated');
    expect(stated.map(({ method, edition }) => `${method} ${edition}`)).toEqual([
      'cupellation-of-gold 1',
      'difference-of-silver 1',
      'difference-of-silver 2',
      'titration-of-silver 1',
    ]);
    const runs = [
      ...(await bodiesOf<Run>('CupellationRecorded')),
      ...(await bodiesOf<Run>('DifferenceRecorded')),
    ];
    expect(runs.length).toBeGreaterThan(15);
    for (const run of runs) {
      expect(run.method).toBeDefined();
      expect(run.reagentLots).toHaveLength(2);
      expect(run.controls?.references.length).toBeGreaterThan(0);
    }
  });

  it('has one void run, whose reference material fails, and repeats it', async () => {
    const runs = await bodiesOf<Run>('DifferenceRecorded');
    const [spoiled, ...others] = runs.filter(({ state }) => state === 'void');
    expect(others).toEqual([]);
    expect(spoiled?.voidReason).toMatch(/RM-S999-5.*Cu found/);
    const again = runs.filter(({ melt, state }) => melt === spoiled?.melt && state === 'valid');
    expect(again).toHaveLength(1);
    const answered = await bodiesOf<{ chart: string; finding: string }>('ChartSignalAnswered');
    expect(answered.map(({ chart }) => chart)).toContain('reference-material.RM-S999-5.Cu');
  });

  it('gives its chart of the reference material as many points as limits are set from', async () => {
    const runs = await bodiesOf<Run>('DifferenceRecorded');
    const points = runs
      .filter(({ state }) => state === 'valid')
      .flatMap(({ controls }) => controls?.references ?? [])
      .filter(({ comparisons }) => comparisons.some(({ quantity }) => quantity === 'fineness'));
    // ISO 7870-2:2013: about 20 at least.
    expect(points.length).toBeGreaterThanOrEqual(20);
  });

  it('condemns a lot of acid, answers for most runs made with it and leaves one on the docket', async () => {
    const condemned = await bodiesOf<{ lot: string }>('ReagentLotCondemned');
    expect(condemned.map(({ lot }) => lot)).toEqual(['NA-13']);
    const answers = await bodiesOf<{ hold: string; answeredFor: unknown[] }>('HoldAnswered');
    const ofLot = answers.filter(({ hold }) => hold === 'reagent-lot/NA-13');
    expect(ofLot.flatMap(({ answeredFor }) => answeredFor)).toHaveLength(4);
    expect((await papers()).join('\n')).toMatch(/1 run in doubt: Lot NA-13/);
  });

  it('checks three balances every morning; one fails once, is adjusted and answered for', async () => {
    const checks = await bodiesOf<{ instrument: string; passes: boolean }>('InstrumentChecked');
    for (const balance of ['BAL-L1', 'BAL-L2', 'BAL-T1']) {
      expect(checks.filter(({ instrument }) => instrument === balance)).toHaveLength(14);
    }
    expect(checks.filter(({ passes }) => !passes)).toMatchObject([{ instrument: 'BAL-L2' }]);
    const calibrated = await bodiesOf<{ instrument: string }>('CalibrationRecorded');
    expect(calibrated.map(({ instrument }) => instrument)).toEqual(['BAL-L2']);
    const answers = await bodiesOf<{ hold: string; answeredFor: unknown[] }>('HoldAnswered');
    const ofBalance = answers.filter(({ hold }) => hold.startsWith('instrument/BAL-L2/'));
    const [measurements, weighings] = ofBalance.map(({ answeredFor }) => answeredFor.length);
    expect(measurements).toBe(3);
    expect(weighings).toBeGreaterThan(20);
    expect((await papers()).join('\n')).not.toMatch(/BAL-L2|Blank balance/);
  });

  it('takes metal out in every form that it makes, and still agrees with its tally', async () => {
    const out = await bodiesOf<{ form: string; to: string; estimated: boolean }>('MetalTakenOut');
    const ways = new Set(
      out.map(
        ({ form, to, estimated }) => `${form}, ${to}, ${estimated ? 'estimated' : 'weighed'}`,
      ),
    );
    expect([...ways].sort()).toEqual([
      'base metal lost in the furnace, ceased, weighed',
      'cornets, archive, weighed',
      'cupels and sweeps, ceased, estimated',
      'cuttings, scrap, weighed',
      'silver in solution, ceased, weighed',
    ]);
    const lines = (await bodiesOf<ClosedShift>('ShiftClosed')).flatMap(({ places }) =>
      places.filter(({ place }) => place === 'laboratory').flatMap((place) => place.lines),
    );
    expect(lines.filter(({ balance }) => balance !== null).length).toBeGreaterThan(40);
    expect(lines.filter(({ gramDifference }) => gramDifference !== null)).toEqual([]);
  });

  it('takes part in comparisons of laboratories and answers the questionable round', async () => {
    const rounds = await bodiesOf<{ round: string; verdict: string }>('ProficiencyRoundRecorded');
    expect(rounds.map(({ verdict }) => verdict)).toEqual([
      ...Array.from({ length: 4 }, () => 'satisfactory'),
      'questionable',
    ]);
    const answered = await bodiesOf<{ round: string }>('ProficiencyRoundAnswered');
    expect(answered.map(({ round }) => round)).toEqual(['RL-22']);
  });

  it('takes up a new piece, titrates its melt by the titre of the day, and looks at its metal', async () => {
    const titres = await bodiesOf<{ lot: string }>('TitreDetermined');
    expect(titres).toHaveLength(1);
    const [run, ...others] = await bodiesOf<Run & { titre: object }>('TitrationRecorded');
    expect(others).toEqual([]);
    expect(run).toMatchObject({ melt: 'QS-001', state: 'valid', reagentLots: ['KB-01'] });
    expect(run?.controls?.references).toHaveLength(1);
    const results = await bodiesOf<{ melt: string; verdict: string; finenessPerMille: number }>(
      'ResultSigned',
    );
    const found = results.find(({ melt }) => melt === 'QS-001');
    expect(found?.verdict).toBe('passes');
    // What the demonstration made: 1.4 ‰ above the limit of 925 ‰.
    expect(Math.abs((found?.finenessPerMille ?? 0) - 926.4)).toBeLessThan(0.5);
    expect(await bodiesOf('HardnessMeasured')).toMatchObject([{ finding: 'inside' }]);
    const structures = await bodiesOf<{ finding: string; photographSha256: string }>(
      'StructureExamined',
    );
    expect(structures).toMatchObject([{ finding: 'inside' }]);
    const attachments = new FolderAttachments(join(folder, 'first', plantFiles.attachments));
    const photograph = await attachments.find(structures[0]?.photographSha256 ?? '');
    expect(photograph?.mediaType).toBe('image/png');
  });

  it('screens surfaces, and answers the one that deviates before the melt goes on', async () => {
    const screened = await bodiesOf<{ melt: string; flag: string }>('BlankScreened');
    const deviating = screened.filter(({ flag }) => flag === 'deviates');
    expect(deviating.map(({ melt }) => melt)).toEqual(['FS-006']);
    expect(screened.filter(({ flag }) => flag === 'no deviation seen').length).toBe(5);
    expect(await bodiesOf('ScreeningAnswered')).toHaveLength(1);
  });
});

interface ClosedShift {
  readonly places: readonly {
    readonly place: string;
    readonly lines: readonly {
      readonly gramDifference: string | null;
      readonly balance: unknown;
    }[];
  }[];
}

describe('receiving and stores of the demonstration', () => {
  it('keeps a material certificate of every consignment, with the file itself', async () => {
    const attached = await bodiesOf<{
      consignment: string;
      file: { sha256: string };
      missing: string[];
    }>('MaterialCertificateAttached');
    expect(attached).toHaveLength(6);
    expect(attached.flatMap(({ missing }) => missing)).toEqual(['OS-006']);
    const attachments = new FolderAttachments(join(folder, 'first', plantFiles.attachments));
    for (const { file } of attached) {
      const kept = await attachments.find(file.sha256);
      expect(kept?.mediaType).toBe('application/pdf');
    }
  });

  it('settles the drum that was short, and stands in dispute about the refused melt', async () => {
    const tallied = await bodiesOf<{ drum: string; piecesFound: number }>('DrumTallied');
    expect(tallied).toMatchObject([{ drum: 'OS-002-D4', piecesFound: 298 }]);
    const settled = await bodiesOf<{ agreedPieces: number }>('DifferenceSettled');
    expect(settled).toMatchObject([{ agreedPieces: -2 }]);
    const open = (await papers()).filter((what) => /^Difference DIF/.test(what));
    expect(open).toHaveLength(1);
    expect(open[0]).toMatch(/Fennel and Rusk.*C-0003/);
  });

  it('seals portions for four parties of silver, and one reserve is overdue', async () => {
    const sealed = await bodiesOf<{
      metal: string;
      portions: { for: string; keptUntil: string | null }[];
    }>('PortionsSealed');
    const silver = sealed.filter(({ metal }) => metal === 'silver');
    expect(silver).toHaveLength(17);
    for (const { portions } of silver) {
      const parties = portions.map((portion) => portion.for);
      expect(parties).toEqual(['plant', 'supplier', 'umpire', 'reserve']);
      expect(portions.at(-1)?.keptUntil).not.toBeNull();
    }
    const sent = await bodiesOf<{ to: string; portion: string }>('PortionSent');
    expect(sent.map(({ to, portion }) => `${portion} ${to}`)).toContain('FS-005-U umpire');
    const overdue = (await papers()).filter((what) => /was kept until/.test(what));
    expect(overdue).toHaveLength(1);
  });

  it('exchanges assays with two suppliers, and asks for the umpire where they part', async () => {
    const reports = await bodiesOf<{ portion: string; fineness: { text: string } }>(
      'PortionResultReported',
    );
    expect(reports.map(({ portion, fineness }) => [portion, fineness.text])).toEqual([
      ['OG-001-S', '751.85'],
      ['FS-005-S', '998.990'],
    ]);
    const parted = (await papers()).filter((what) => /splitting limit/.test(what));
    expect(parted).toHaveLength(1);
    expect(parted[0]).toMatch(/^Melt FS-005: the supplier found 998\.990 ‰/);
  });

  it('puts boxes into racks, finds them there, and counts its seals', async () => {
    expect((await bodiesOf('ContainersPutAway')).length).toBeGreaterThan(10);
    const checked = await bodiesOf<{ found: string[]; missing: string[]; strange: string[] }>(
      'RackChecked',
    );
    expect(checked).toMatchObject([{ missing: [], strange: [] }]);
    expect(checked[0]?.found.length).toBeGreaterThan(5);
    const counted = await bodiesOf<{ used: number; difference: number }>('NumbersCounted');
    expect(counted).toMatchObject([{ difference: 0 }]);
    expect(counted[0]?.used).toBeGreaterThan(10);
  });

  it('signs for a piece that is missing one night, and books it again when it is found', async () => {
    const signed = await bodiesOf<{ difference: string; pieces: number }>('DifferenceSigned');
    expect(signed).toMatchObject([{ pieces: 1 }]);
    const explained = await bodiesOf<{ difference: string; outcome: string }>(
      'DifferenceExplained',
    );
    expect(explained).toContainEqual(
      expect.objectContaining({ difference: signed[0]?.difference, outcome: 'found' }),
    );
  });
});
