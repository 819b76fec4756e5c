import { beforeEach, describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import type { Trial } from '../../journal/trial.ts';
import { receivingStation } from '../receiving/station.ts';
import { registersStation } from '../registers/station.ts';
import { chartPoints, charts } from './chart-books.ts';
import { chartDocket } from './chart-docket.ts';
import { cupel, cutMelt, laboratoryTrial, recorded, refusals } from './laboratory-trial.ts';
import { laboratoryStation } from './station.ts';

const chart = 'proof-correction.lark-8';

/** Cornets of both proofs, in thousandths above 229 mg of 229.2 mg taken: a loss of about 0.01 mg. */
const quiet = ['190', '192', '188', '191', '189', '193', '187', '190', '192', '189', '191'];

/** A plant whose runs have one portion each, four to a melt; the last run lost 0.1 mg. */
async function trialWithSignal(): Promise<Trial> {
  const trial = await laboratoryTrial();
  let blank = '';
  for (const [index, cornet] of [...quiet, '100'].entries()) {
    const melt = `M-${Math.floor(index / 4) + 1}`;
    if (index % 4 === 0) blank = String((await cutMelt(trial, melt)).forAssay[0]);
    const run = { assayRun: `R-${index + 1}`, melt, portions: [[blank, 916.5] as const] };
    const proofCornets = [`229.${cornet}`, `229.${cornet}`];
    recorded(await cupel(trial, { ...run, proofCornets }));
    trial.now += 3_600_000;
  }
  return trial;
}

interface ListedChart {
  readonly chart: string;
  readonly points: number;
  readonly openSignals: readonly string[];
}

interface ShownChart {
  readonly shown: readonly { number: number; state: string; assayRun: string; why: string }[];
  readonly open: readonly { rule: string; points: number[] }[];
  readonly judgedFrom: number;
  readonly answers: readonly { finding: string; reason: string }[];
  readonly reading: { readonly state: string; readonly limits: { readonly points: number } };
}

const shownOf = async (trial: Trial, name = chart) =>
  (await trial.ask('control-chart', { chart: name }, 'chief')) as ShownChart;

describe('the control charts of the laboratory', () => {
  it('get proof correction, spread and surcharge of a run, and the range of its duplicates', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    const portions = [
      [String(forAssay[0]), 916.5],
      [String(forAssay[1]), 916.74],
    ] as const;
    const proofCornets = ['229.100', '229.180'];
    recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions, proofCornets }));
    const points = await trial.books.select(chartPoints);
    const values = new Map(points.map((point) => [point.chart, point.value]));
    // Losses 0.1 and 0.02 mg of 229.2 mg; portions of 250 mg.
    expect(values.get('proof-correction.lark-8')).toBeCloseTo((1000 * 0.06) / 229.2, 9);
    expect(values.get('proof-spread.lark-8')).toBeCloseTo((1000 * 0.08) / 229.2, 9);
    expect(values.get('surcharge.lark-8')).toBeCloseTo((-1000 * 0.06) / 250, 9);
    expect(values.get('duplicate-range.lark-8')).toBeCloseTo(0.24, 9);
    expect(points.every((point) => point.assayRun === 'R-1' && point.state === 'counts')).toBe(
      true,
    );
  });

  it('take a void run as void, and a range out when a determination of it is discarded', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    const portions = forAssay.map((blank) => [blank, 916.5] as const).slice(0, 2);
    const proofCornets = ['229.200', '228.900'];
    recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions, proofCornets }));
    recorded(await cupel(trial, { assayRun: 'R-2', melt: 'M-1', portions }));
    const reason = 'The cupel cracked.';
    const discard = { assayRun: 'R-2', label: 'S2', reason };
    recorded(await trial.do('discard-determination', discard, 'assayer'));
    const ranges = (await shownOf(trial, 'duplicate-range.lark-8')).shown;
    expect(ranges.map(({ assayRun, state }) => [assayRun, state])).toEqual([
      ['R-1', 'void'],
      ['R-2', 'left out'],
    ]);
    expect(ranges[1]?.why).toBe('determination S2 was discarded: The cupel cracked.');
    const corrections = (await shownOf(trial)).shown;
    expect(corrections.map(({ state }) => state)).toEqual(['void', 'counts']);
  });

  it('are nothing before the first run', async () => {
    const trial = await laboratoryTrial();
    expect(await trial.ask('control-charts', {}, 'chief')).toEqual([]);
    expect(await trial.ask('control-chart', { chart }, 'chief')).toBeNull();
    expect(await chartDocket(trial.books)).toEqual([]);
  });
});

describe('a signal of a control chart', () => {
  let trial: Trial;
  beforeEach(async () => {
    trial = await trialWithSignal();
  });
  const answer = (change: object = {}) =>
    trial.do(
      'answer-chart-signal',
      {
        chart,
        through: 12,
        finding: 'cause removed',
        reason: 'A muffle brick was out.',
        ...change,
      },
      'chief',
    );

  it('puts a paper on the docket with the rule and its points, until it is answered', async () => {
    const papers = await chartDocket(trial.books);
    const paper = papers.find((one) => one.paper === `laboratory/chart/${chart}`);
    expect(paper).toMatchObject({
      weight: 'look',
      path: `/laboratory/charts/${chart}`,
      since: '2026-03-02T18:00:00.000Z',
    });
    expect(paper?.what).toContain('Western Electric rule 1');
    expect(paper?.why).toContain('Point 12: more than 3 standard deviations');
    expect(paper?.why).toContain('provisional: they rest on 12 points');
    recorded(await answer());
    const left = await chartDocket(trial.books);
    expect(left.some((one) => one.paper === `laboratory/chart/${chart}`)).toBe(false);
  });

  it('stands in the list of charts', async () => {
    const list = (await trial.ask('control-charts', {}, 'auditor')) as ListedChart[];
    expect(list.find((one) => one.chart === chart)).toMatchObject({ points: 12 });
    expect(list.find((one) => one.chart === chart)?.openSignals).toContain(
      'Western Electric rule 1',
    );
  });

  it('leaves its points out of the limits once the cause is removed', async () => {
    const [body] = recorded(await answer());
    expect(body).toMatchObject({ leftOut: [12], judgedFrom: null, assayRuns: ['R-12'] });
    const shown = await shownOf(trial);
    expect(shown.shown.at(-1)).toMatchObject({ state: 'left out', why: 'A muffle brick was out.' });
    expect(shown.reading.limits.points).toBe(11);
    expect(shown.answers).toMatchObject([{ finding: 'cause removed' }]);
  });

  it('keeps its points where no cause was found', async () => {
    recorded(await answer({ finding: 'no cause found' }));
    const shown = await shownOf(trial);
    expect(shown.shown.at(-1)?.state).toBe('counts');
    expect(shown.open).toEqual([]);
  });

  it('sets the limits anew from its first point where the level is a new one', async () => {
    recorded(await answer({ finding: 'new level', reason: 'A new lot of proof gold.' }));
    const shown = await shownOf(trial);
    expect(shown.judgedFrom).toBe(12);
    expect(shown.shown.map(({ number }) => number)).toEqual([12]);
    expect(shown.reading.state).toBe('no limits');
  });

  it('is answered by the chief assayer only', async () => {
    const input = { chart, through: 12, finding: 'no cause found', reason: 'Looked at it.' };
    expect(refusals(await trial.do('answer-chart-signal', input, 'assayer'))).not.toEqual([]);
  });

  it('refuses a chart that there is not', async () => {
    expect(refusals(await answer({ chart: 'moon.lark-8' }))).toEqual(['ChartUnknown']);
  });

  it('refuses a point that the chart has not come to', async () => {
    expect(refusals(await answer({ through: 13 }))).toEqual(['ChartPointUnknown']);
  });

  it('refuses where no signal waits', async () => {
    expect(refusals(await answer({ through: 11 }))).toEqual(['NoOpenSignal']);
    recorded(await answer());
    expect(refusals(await answer())).toEqual(['NoOpenSignal']);
  });

  it('is in the books that are made anew from the journal', async () => {
    recorded(await answer());
    const registry = registerStations([registersStation, receivingStation, laboratoryStation]);
    const rebuilt = new MemoryStore('trial');
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
    const counted = Object.fromEntries(comparisons.map(({ book, records }) => [book, records]));
    expect(counted).toMatchObject({ laboratory_chart: 3, laboratory_chart_point: 36 });
    expect((await trial.books.select(charts)).length).toBe(3);
  });
});
