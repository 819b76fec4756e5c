import { calculationById, runCalculation } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../../adapters/memory-store.ts';
import { balances } from '../../../journal/core-books.ts';
import { sha256Hex } from '../../../journal/entry.ts';
import { registerStations } from '../../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../../journal/rebuild.ts';
import type { Circumstances } from '../../../journal/station.ts';
import type { Trial } from '../../../journal/trial.ts';
import type { RoundFacts } from '../../receiving/further/round-facts.ts';
import { receivingStation } from '../../receiving/station.ts';
import { registersStation } from '../../registers/station.ts';
import {
  checkedMelt,
  cupel,
  cutMelt,
  laboratoryTrial,
  measure,
  reading,
  recorded,
  refusals,
  sampleMelt,
} from '../laboratory-trial.ts';
import { laboratoryStation } from '../station.ts';

const reason = 'Two further blanks decide it.';
const ask = (trial: Trial, pieces = 2, melt = 'M-1') =>
  trial.do('ask-further-blanks', { melt, pieces, reason }, 'assayer');
const draw = (trial: Trial, author = 'inspector', melt = 'M-1') =>
  trial.do('draw-further-blanks', { melt }, author);

interface Drawn {
  readonly seedEntry: number;
  readonly seedHash: string;
  readonly seed: string;
  readonly draw: {
    readonly calculation: string;
    readonly input: { readonly containers: readonly object[] };
    readonly output: object;
  };
  readonly blanks: readonly { blank: string; drum: string; position: number }[];
}

async function drawn(trial: Trial): Promise<Drawn> {
  const [body] = recorded(await draw(trial));
  return body as unknown as Drawn;
}

const take = (
  trial: Trial,
  scanned: readonly string[],
  more: { gross?: string; reason?: string | null } = {},
) =>
  trial.do(
    'take-further-blanks',
    {
      melt: 'M-1',
      gross: reading(more.gross ?? '16.02', 'g'),
      instrument: 'B-1',
      verification: { scanned, reason: more.reason ?? null },
    },
    'inspector',
  );

const lying = async (trial: Trial, place: string) =>
  (await trial.books.get(balances, place, 'gold', 'lark-8', 'M-1'))?.pieces;

/** The papers on the docket that further blanks lie there for. */
const docket = async (trial: Trial) =>
  ((await receivingStation.docket?.(trial.books, '2026-03-02T12:00:00.000Z')) ?? []).filter(
    ({ paper }) => paper.includes('further'),
  );

/** A melt of 60 blanks whose two determinations leave it undecided. */
async function undecided() {
  const trial = await laboratoryTrial();
  const sample = await checkedMelt(trial, 'M-1', 916.8);
  return { trial, ...sample };
}

describe('further blanks of a melt that is undecided', () => {
  it('are drawn from the hash of the asking over what is left, taken, assayed, and decide it', async () => {
    const { trial, all } = await undecided();
    const [asked] = recorded(await ask(trial));
    expect(asked).toMatchObject({ round: 1, pieces: 2, cause: 'the verdict is undecided' });
    const [paper] = await docket(trial);
    expect(paper).toMatchObject({
      what: '2 further blanks of melt M-1 are asked for.',
      path: '/receiving/melts/M-1/further',
    });
    const body = await drawn(trial);
    // SHA-256 of the hash of the asking entry, a blank, and the melt, as for the first sample.
    const entry = await trial.store.reader.line(body.seedEntry);
    expect(body.seedHash).toBe(entry?.hash);
    expect(body.seed).toBe(sha256Hex(`${body.seedHash} M-1`));
    // 13 of the 60 blanks of the drum were drawn before: 47 are left.
    expect(body.draw.input.containers).toEqual([{ container: 'D-M-1', pieces: 47 }]);
    const again = runCalculation(calculationById(body.draw.calculation), body.draw.input);
    expect(again).toMatchObject({ outcome: 'computed', output: body.draw.output });
    const further = body.blanks.map(({ blank }) => blank);
    expect(further).toEqual(['M-1/14', 'M-1/15']);
    expect(all).not.toContain(further[0]);

    const before = [await lying(trial, 'receiving'), await lying(trial, 'laboratory')];
    const outcome = await take(trial, further);
    expect(outcome).toMatchObject({
      entries: [
        {
          kind: 'FurtherBlanksTaken',
          postings: [
            { from: 'receiving', to: 'laboratory', pieces: 2, grossMicrograms: 16_020_000 },
          ],
        },
      ],
    });
    expect([await lying(trial, 'receiving'), await lying(trial, 'laboratory')]).toEqual([
      (before[0] ?? 0) - 2,
      (before[1] ?? 0) + 2,
    ]);
    expect(await docket(trial)).toEqual([]);

    recorded(await measure(trial, 'M-1', further));
    recorded(await trial.do('cut-blanks', { melt: 'M-1', blanks: further }, 'assayer'));
    const portions = further.map((blank) => [blank, 917.4] as const);
    recorded(await cupel(trial, { assayRun: 'R-2', melt: 'M-1', portions }));
    const [signed] = recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
    expect(signed).toMatchObject({ determinations: { length: 4 } });
    const registry = registerStations([registersStation, receivingStation, laboratoryStation]);
    const rebuilt = new MemoryStore('trial');
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
  });

  it('are named on the page of the melt, and may be asked for again once they are used', async () => {
    const { trial } = await undecided();
    const further = async () => {
      const answer = await trial.ask('melt-trial', { melt: 'M-1' }, 'assayer');
      return (answer as { further: { mayAskSince: string | null; rounds: object[] } }).further;
    };
    expect(await further()).toMatchObject({ mayAskSince: 'the verdict is undecided', rounds: [] });
    recorded(await ask(trial));
    expect(await further()).toMatchObject({ mayAskSince: null, rounds: [{ state: 'asked' }] });
    const body = await drawn(trial);
    const blanks = body.blanks.map(({ blank }) => blank);
    recorded(await take(trial, blanks));
    expect(await further()).toMatchObject({ rounds: [{ state: 'taken', blanks }] });
    expect(refusals(await ask(trial))).toEqual(['BlanksForAssayLeft']);
    recorded(await measure(trial, 'M-1', blanks));
    recorded(await trial.do('cut-blanks', { melt: 'M-1', blanks }, 'assayer'));
    expect(await further()).toMatchObject({ mayAskSince: null });
    expect(await ask(trial, 1)).toMatchObject({
      refusals: [
        {
          refusal: 'CutBlanksNotAssayed',
          message: 'M-1/14, M-1/15 of melt M-1 are cut and not assayed.',
          field: 'melt',
          figures: { melt: 'M-1', blanks },
        },
      ],
    });
    const portions = blanks.map((blank) => [blank, 916.8] as const);
    recorded(await cupel(trial, { assayRun: 'R-2', melt: 'M-1', portions }));
    expect(await further()).toMatchObject({ mayAskSince: 'the verdict is undecided' });
    const [asked] = recorded(await ask(trial, 1));
    expect(asked).toMatchObject({ round: 2, pieces: 1 });
    // 15 of the 60 blanks are gone by now.
    const second = await drawn(trial);
    expect(second.draw.input.containers).toEqual([{ container: 'D-M-1', pieces: 45 }]);
    expect(second.blanks.map(({ blank }) => blank)).toEqual(['M-1/16']);
  });

  it('are not waited for any more once the chief assayer refuses the melt', async () => {
    const { trial } = await undecided();
    recorded(await ask(trial));
    const refusing = { melt: 'M-1', ruling: 'refuse', reason: 'Not worth the work.' };
    recorded(await trial.do('rule-melt', refusing, 'chief'));
    expect(await docket(trial)).toEqual([]);
    expect(refusals(await draw(trial))).toEqual(['FurtherBlanksNotAsked']);
  });
});

describe('asking for further blanks', () => {
  it('is refused while blanks for assay are left, or nothing calls for them', async () => {
    const trial = await laboratoryTrial();
    const { all, forAssay } = await sampleMelt(trial, 'M-1');
    recorded(await measure(trial, 'M-1', all));
    expect(refusals(await ask(trial))).toEqual(['BlanksForAssayLeft']);
    recorded(await trial.do('cut-blanks', { melt: 'M-1', blanks: forAssay }, 'assayer'));
    expect(refusals(await ask(trial))).toEqual(['CutBlanksNotAssayed']);
    const portions = forAssay.map((blank) => [blank, 917.4] as const);
    recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions }));
    expect(refusals(await ask(trial))).toEqual(['FurtherBlanksNotNeeded']);
    expect(refusals(await ask(trial, 1, 'X-1'))).toEqual(['MeltUnknown']);
  });

  it('is refused for more blanks than determinations may still be added', async () => {
    const { trial } = await undecided();
    // Two of at most ten are there.
    expect(refusals(await ask(trial, 9))).toEqual(['TooManyFurtherBlanks']);
    expect(recorded(await ask(trial, 8))).toMatchObject([{ pieces: 8 }]);
  });

  it('is open where a determination was discarded, and where they do not agree', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    const portions = forAssay.map((blank, index) => [blank, 917 + 2 * index] as const);
    recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions }));
    const disagreeing = recorded(await ask(trial, 1));
    expect(disagreeing).toMatchObject([{ cause: 'the determinations do not agree' }]);
    const other = await laboratoryTrial();
    const cut = await cutMelt(other, 'M-1');
    const two = cut.forAssay.map((blank) => [blank, 917] as const);
    recorded(await cupel(other, { assayRun: 'R-1', melt: 'M-1', portions: two }));
    const discarding = { assayRun: 'R-1', label: 'S1', reason: 'Cupel cracked.' };
    recorded(await other.do('discard-determination', discarding, 'assayer'));
    expect(recorded(await ask(other))).toMatchObject([{ cause: 'a determination does not count' }]);
  });

  it('is refused twice over, and where a result passes', async () => {
    const { trial } = await undecided();
    recorded(await ask(trial));
    expect(refusals(await ask(trial))).toEqual(['FurtherBlanksOnTheWay']);
    const sound = await laboratoryTrial();
    await checkedMelt(sound, 'M-1', 917.4);
    expect(refusals(await ask(sound))).toEqual(['ResultAlreadySigned']);
  });
});

describe('drawing and taking further blanks', () => {
  it('draws once, and only what was asked for', async () => {
    const { trial } = await undecided();
    expect(refusals(await draw(trial))).toEqual(['FurtherBlanksNotAsked']);
    expect(refusals(await take(trial, []))).toEqual(['FurtherBlanksNotAsked']);
    recorded(await ask(trial));
    expect(refusals(await take(trial, []))).toEqual(['FurtherBlanksNotDrawn']);
    const substituting = { melt: 'M-1', blank: 'M-1/14', from: 'the same drum', reason };
    expect(refusals(await trial.do('substitute-further-pick', substituting, 'inspector'))).toEqual([
      'FurtherBlanksNotDrawn',
    ]);
    recorded(await draw(trial));
    expect(refusals(await draw(trial))).toEqual(['FurtherBlanksAlreadyDrawn']);
  });

  it('substitutes a pick by another draw from the same seed, as an exception with its reason', async () => {
    const { trial } = await undecided();
    recorded(await ask(trial));
    const body = await drawn(trial);
    const substituting = { melt: 'M-1', blank: 'M-1/14', from: 'the same drum', reason };
    const [exception] = recorded(
      await trial.do('substitute-further-pick', substituting, 'inspector'),
    );
    expect(exception).toMatchObject({
      blank: 'M-1/14',
      drawn: { position: body.blanks[0]?.position },
      reason,
      // 47 are left, two of them are picks: 45 places are free.
      draw: {
        input: {
          seed: sha256Hex(`${body.seed} substitute M-1/14 1`),
          containers: [{ container: 'D-M-1', pieces: 45 }],
        },
      },
    });
    const answer = await trial.ask('further-blanks', { melt: 'M-1' }, 'inspector');
    expect(JSON.stringify(answer)).toContain(`instead of ${body.blanks[0]?.position} in D-M-1`);
    const elsewhere = { ...substituting, from: 'the other drums' };
    expect(refusals(await trial.do('substitute-further-pick', elsewhere, 'inspector'))).toEqual([
      'NoPlaceForSubstitute',
    ]);
    const strange = { ...substituting, blank: 'M-1/3' };
    expect(refusals(await trial.do('substitute-further-pick', strange, 'inspector'))).toEqual([
      'PickUnknown',
    ]);
  });

  it('verifies by scan, or says why not, and weighs what was taken', async () => {
    const { trial } = await undecided();
    recorded(await ask(trial));
    await drawn(trial);
    expect(refusals(await take(trial, ['M-1/14']))).toEqual(['PicksNotVerified']);
    expect(refusals(await take(trial, ['M-1/14', 'M-1/15', 'M-1/1']))).toEqual(['PickUnknown']);
    expect(refusals(await take(trial, ['M-1/14', 'M-1/15'], { gross: '80.10' }))).toEqual([
      'MassImplausible',
    ]);
    // Two blanks of 8.01 g: 16.02 g. 11 g would be one and a third.
    expect(refusals(await take(trial, ['M-1/14', 'M-1/15'], { gross: '11.00' }))).toEqual([
      'MassOfAnotherCount',
    ]);
    const why = 'The label of one is torn.';
    expect(recorded(await take(trial, ['M-1/14'], { reason: why }))).toMatchObject([
      { scanned: ['M-1/14'], notScanned: ['M-1/15'], reason: why },
    ]);
  });

  it('refuses where too few are left, and where blanks of the melt have gone on', async () => {
    const { trial } = await undecided();
    recorded(await ask(trial));
    const command = receivingStation.commands.find((one) => one.command === 'draw-further-blanks');
    const circumstances = {} as Circumstances;
    const facts = (await command?.facts(trial.books, { melt: 'M-1' }, circumstances)) as RoundFacts;
    const decide = (changes: Partial<RoundFacts>) => {
      const decision = command?.decide({ melt: 'M-1' }, { ...facts, ...changes }, circumstances);
      return decision && 'refusals' in decision
        ? decision.refusals.map(({ refusal }) => refusal)
        : [];
    };
    expect(decide({})).toEqual([]);
    expect(decide({ drums: [{ drum: 'D-M-1', taken: 59, pieces: 1 }] })).toEqual([
      'TooFewBlanksLeft',
    ]);
    // 20 blanks were taken by the press room before the melt was held.
    expect(decide({ piecesAtReceiving: 27 })).toEqual(['MeltInWork']);
  });

  it('prints a list of them with codes', async () => {
    const { trial } = await undecided();
    recorded(await ask(trial));
    await drawn(trial);
    const paper = receivingStation.papers?.find((one) => one.paper === 'further-pick-list');
    const sources = {
      books: trial.books,
      instant: '',
      signer: trial.signer,
      proofOf: async () => undefined,
    };
    const printed = await paper?.render(sources, 'M-1');
    expect(printed?.fileName).toBe('further-blanks-M-1.pdf');
    expect(
      Buffer.from(printed?.bytes ?? [])
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
    expect(await paper?.render(sources, 'X-1')).toBeUndefined();
  });
});
