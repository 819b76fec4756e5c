import { describe, expect, it } from 'vitest';
import { pieceStandardOf } from '../registers/index.ts';
import { checkedMelt, cupel, cutMelt, laboratoryTrial, recorded } from './laboratory-trial.ts';
import { determinationsOf, standingResult } from './read-model-queries.ts';
import { pictureOf, type ResultPicture } from './result-picture.ts';

/** Fineness found of each portion, of the two blanks by turns, in one run. */
async function trialWith(...found: readonly number[]) {
  const trial = await laboratoryTrial();
  const { forAssay } = await cutMelt(trial, 'M-1');
  const portions = found.map((fineness, index) => [String(forAssay[index % 2]), fineness] as const);
  recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions }));
  return trial;
}

async function pictureIn(trial: Awaited<ReturnType<typeof laboratoryTrial>>) {
  const answer = (await trial.ask('melt-trial', { melt: 'M-1' }, 'assayer')) as {
    picture: ResultPicture | null;
    preview: { figures: { standardUncertaintyPerMille: number } } | null;
  };
  if (!answer.picture) throw new RangeError('no picture');
  return { picture: answer.picture, u: answer.preview?.figures.standardUncertaintyPerMille ?? 0 };
}

describe('the picture of a result', () => {
  it('draws the budget, whose squares add up to the whole', async () => {
    const { picture, u } = await pictureIn(await trialWith(916.8, 917));
    const [bars] = picture.budget.series;
    expect(bars?.kind).toBe('bars');
    expect(Math.hypot(...(bars?.y ?? []))).toBeCloseTo(u, 12);
    expect(picture.budget.levels).toEqual([{ y: u, label: 'all together' }]);
    expect(picture.budget.xNames?.map(({ name }) => name)).toEqual([
      'single determinations',
      'between blanks',
      'shared by a run',
      'shared by the method',
    ]);
    expect(picture.calculations).toEqual([
      'melt-fineness version 1',
      'conformance-probability version 1',
    ]);
  });

  it('says what the method shares, and between what finenesses it is in its scope', async () => {
    const { picture, u } = await pictureIn(await trialWith(916.8, 917));
    const shared = picture.budget.series[0]?.y.at(-1) ?? 0;
    expect(picture.sharedByMethodPercent).toBeCloseTo(100 * (shared / u) ** 2, 9);
    // ISO 11426:2021, scope: gold preferably from 100 to 999.5 ‰.
    expect(picture.scopePerMille).toEqual({ lowest: 100, highest: 999.5 });
  });

  it('says how far the limit is, in standard uncertainties', async () => {
    const { picture, u } = await pictureIn(await trialWith(916.8, 917));
    // Mean 916.9, limit 916.6.
    expect(picture.marginPerMille).toBeCloseTo(0.3, 9);
    expect(picture.marginInStandardUncertainties).toBeCloseTo(0.3 / u, 6);
  });

  it('gives the probability that the verdict was recorded with', async () => {
    const trial = await laboratoryTrial();
    await checkedMelt(trial, 'M-1', 916.7);
    const { picture } = await pictureIn(trial);
    const result = await standingResult(trial.books, 'M-1');
    const recordedProbability = Number(result?.body.decision.output['conformanceProbability']);
    expect(picture.conformanceProbability).toBeCloseTo(recordedProbability, 12);
  });

  it('says what one further determination would change', async () => {
    const { picture, u } = await pictureIn(await trialWith(916.8, 917));
    if (picture.further.state !== 'possible') throw new RangeError('none possible');
    const [lower, same, higher] = picture.further.cases;
    if (same?.outcome.state !== 'result') throw new RangeError('more needed');
    expect(same.determinationPerMille).toBeCloseTo(916.9, 9);
    expect(same.outcome.finenessPerMille).toBeCloseTo(916.9, 9);
    expect(same.outcome.standardUncertaintyPerMille).toBeLessThan(u);
    expect(lower?.determinationPerMille).toBeLessThan(916.9);
    expect(higher?.determinationPerMille).toBeGreaterThan(916.9);
  });

  it('gives that uncertainty by hand: three blanks, two portions of one run and one of another', async () => {
    const trial = await trialWith(916.8, 917);
    const { picture } = await pictureIn(trial);
    if (picture.further.state !== 'possible') throw new RangeError('none possible');
    const { outcome } = picture.further.cases[1] ?? {};
    if (outcome?.state !== 'result') throw new RangeError('more needed');
    const [row] = await determinationsOf(trial.books, 'M-1');
    const own = row?.ownStandardUncertaintyPerMille ?? 0;
    const run = row?.runStandardUncertaintyPerMille ?? 0;
    const method = row?.methodStandardUncertaintyPerMille ?? 0;
    // Deviations −0.1, 0.1 and 0: s² = 0.02/2. The run's part enters as 2/3 and 1/3.
    const independent = Math.max(0.01, own ** 2) / 3;
    const variance = independent + (5 * run ** 2) / 9 + method ** 2;
    expect(outcome.standardUncertaintyPerMille).toBeCloseTo(Math.sqrt(variance), 4);
    expect(outcome.verdict).toBe('passes');
  });

  it('says so where no further determination counts', async () => {
    const trial = await trialWith(916.8, 916.9, 916.85, 916.95);
    const { blanks } = (await trial.ask('melt-trial', { melt: 'M-1' }, 'assayer')) as {
      blanks: readonly { blank: string; cut: object | null }[];
    };
    const cut = blanks.filter((one) => one.cut).map(({ blank }) => blank);
    const [first = '', second = ''] = cut;
    for (const [assayRun, finenesses] of [
      ['R-2', [916.8, 916.9, 916.85, 916.95]],
      ['R-3', [916.8, 916.9]],
    ] as const) {
      const portions = finenesses.map(
        (fineness, index) => [index % 2 === 0 ? first : second, fineness] as const,
      );
      recorded(await cupel(trial, { assayRun, melt: 'M-1', portions }));
    }
    const { picture } = await pictureIn(trial);
    expect(picture.further).toEqual({
      state: 'none',
      why: 'A melt is judged on at most 10 determinations, and it has them.',
    });
  });

  it('is not there where the record is none that the calculations accept', async () => {
    const trial = await trialWith(916.8, 917);
    await trial.do('sign-result', { melt: 'M-1' }, 'assayer');
    const body = (await standingResult(trial.books, 'M-1'))?.body;
    const standard = await pieceStandardOf(trial.books, 'lark-8');
    if (!body || !standard) throw new RangeError('no result');
    const valid = await determinationsOf(trial.books, 'M-1');
    const facts = { melt: 'M-1', standard, blanksForAssay: 2, editions: [], contents: [], valid };
    const [one] = body.uncertainty.input.determinations;
    const input = { ...body.uncertainty.input, determinations: one ? [one, one] : [] };
    expect(pictureOf(body, facts)).toBeDefined();
    const odd = { ...body, uncertainty: { ...body.uncertainty, input } };
    expect(pictureOf(odd, facts)).toBeUndefined();
    const certain = { ...body, standardUncertaintyPerMille: 0 };
    expect(pictureOf(certain, facts)).toBeUndefined();
  });
});
