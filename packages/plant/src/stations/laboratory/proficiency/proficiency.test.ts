import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { laboratoryTrial, recorded, refusals } from '../laboratory-trial.ts';
import { laboratoryStation } from '../station.ts';

/** Published round robins: calculation/reference, each folder with its SOURCE.md. */
const referenceText = (path: string): string =>
  readFileSync(new URL(`../../../../../calculation/reference/${path}`, import.meta.url), 'utf8');
const reference = <Values>(path: string): Values => JSON.parse(referenceText(path)) as Values;

const rowsOfCsv = (path: string): readonly (readonly string[])[] =>
  referenceText(path)
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','));

const round = (change: object = {}) => ({
  round: 'PT-1',
  scheme: 'Round of the river laboratories',
  item: 'Bar 7',
  characteristic: 'Fineness of gold',
  unit: '‰',
  day: '2026-03-01',
  assigned: { kind: 'given', value: 916.7, expanded: 0.04, coverageFactor: 2 },
  assessment: { kind: 'given', standardDeviation: 0.2 },
  own: { value: 916.8, uncertainty: { expanded: 0.2, coverageFactor: 2 } },
  others: [],
  ...change,
});

const record = (trial: Trial, change: object = {}) =>
  trial.do('record-proficiency-round', round(change), 'assayer');

const docket = async (trial: Trial) =>
  (await laboratoryStation.docket?.(trial.books, ''))?.filter(({ paper }) =>
    paper.startsWith('laboratory/proficiency/'),
  ) ?? [];

describe('record-proficiency-round', () => {
  it('judges the own result with z, zeta and En where the report names nobody else', async () => {
    const trial = await laboratoryTrial();
    const [body] = recorded(await record(trial));
    // By hand: 0.1/0.2; 0.1/√(0.1² + 0.02²); 0.1/√(0.2² + 0.04²).
    expect(body?.['z']).toBeCloseTo(0.5, 9);
    expect(body?.['zeta']).toBeCloseTo(0.1 / Math.hypot(0.1, 0.02), 9);
    expect(body?.['en']).toBeCloseTo(0.1 / Math.hypot(0.2, 0.04), 9);
    expect(body).toMatchObject({ verdict: 'satisfactory', isEnSatisfactory: true });
    expect(await docket(trial)).toEqual([]);
  });

  it('stands by z′ where the assigned value is not certain enough', async () => {
    const trial = await laboratoryTrial();
    const assigned = { kind: 'given', value: 916.7, expanded: 0.4, coverageFactor: 2 };
    const [body] = recorded(await record(trial, { assigned }));
    // u = 0.2 exceeds 0.3 · 0.2: 0.1/√(0.2² + 0.2²).
    expect(body?.['score']).toBeCloseTo(0.1 / Math.hypot(0.2, 0.2), 9);
  });

  it('needs no uncertainty; zeta and En then are none', async () => {
    const trial = await laboratoryTrial();
    const [body] = recorded(await record(trial, { own: { value: 916.9, uncertainty: null } }));
    expect(body).toMatchObject({ zeta: null, en: null, isEnSatisfactory: null });
  });

  it('is refused for a name used before and for another unit of the same characteristic', async () => {
    const trial = await laboratoryTrial();
    recorded(await record(trial));
    expect(refusals(await record(trial))).toEqual(['RoundAlreadyRecorded']);
    expect(refusals(await record(trial, { round: 'PT-2', unit: '%' }))).toEqual(['UnitDiffers']);
  });

  it('is refused with a day that has not come, and without a unit', async () => {
    const trial = await laboratoryTrial();
    const today = new Date(trial.now).toISOString().slice(0, 10);
    const tomorrow = new Date(trial.now + 86_400_000).toISOString().slice(0, 10);
    expect(refusals(await record(trial, { day: tomorrow }))).toEqual(['RoundNotYetReported']);
    recorded(await record(trial, { day: today }));
    expect(refusals(await record(trial, { round: 'PT-2', unit: '  ' }))).toEqual([
      'InputNotAccepted',
    ]);
  });

  it('is refused where a value is to be drawn from too few results, or from equal ones', async () => {
    const trial = await laboratoryTrial();
    const assigned = { kind: 'robust', method: 'algorithm-a' };
    expect(refusals(await record(trial, { assigned }))).toEqual(['ParticipantsMissing']);
    const own = { value: 5, uncertainty: null };
    const others = ['A', 'B', 'C'].map((name) => ({ name, value: 5, uncertainty: null }));
    const assessment = assigned;
    const equal = await record(trial, { assigned, assessment, own, others });
    expect(refusals(equal)).toEqual(['RoundNotJudged']);
  });
});

describe('published round robins through the command', () => {
  const lead = rowsOfCsv('key-comparisons/lead-in-wine.csv').map(
    ([name = '', value, coverageFactor, expanded]) => ({
      name,
      value: Number(value),
      uncertainty: { expanded: Number(expanded), coverageFactor: Number(coverageFactor) },
    }),
  );
  const { computed } = reference<{ readonly computed: Readonly<Record<string, number[]>> }>(
    'key-comparisons/figures.json',
  );

  it('gives every participant of key comparison CCQM-K30 its En number', async () => {
    const trial = await laboratoryTrial();
    const right = computed['e_n_against_2.99_U_0.06'] ?? [];
    expect(lead).toHaveLength(right.length);
    for (const [index, { name, value, uncertainty }] of lead.entries()) {
      const [body] = recorded(
        await record(trial, {
          round: `K30-${name}`,
          characteristic: 'Lead in wine',
          unit: 'mg/kg',
          // Reference value and uncertainty as published; the deviation is chosen, as in the reference.
          assigned: { kind: 'given', value: 2.99, expanded: 0.06, coverageFactor: 2 },
          assessment: { kind: 'given', standardDeviation: 0.15 },
          own: { value, uncertainty },
          others: lead.filter((one) => one.name !== name),
        }),
      );
      expect(Math.abs(Number(body?.['en']) - (right[index] ?? Number.NaN))).toBeLessThan(5.1e-7);
      expect(body?.['isEnSatisfactory']).toBe(Math.abs(right[index] ?? 0) <= 1);
    }
  });

  it('draws the robust mean of copper in wholemeal flour, and finds its gross result', async () => {
    const { copper } = reference<{
      readonly copper: {
        readonly results: readonly number[];
        readonly algorithmA: { readonly robust_mean: number; readonly robust_sd: number };
      };
    }>('robust-means/values.json');
    const trial = await laboratoryTrial();
    const gross = copper.results.indexOf(28.95);
    const robust = { kind: 'robust', method: 'algorithm-a' };
    const [body] = recorded(
      await record(trial, {
        characteristic: 'Copper in flour',
        unit: 'µg/g',
        assigned: robust,
        assessment: robust,
        own: { value: 28.95, uncertainty: null },
        others: copper.results
          .filter((_, index) => index !== gross)
          .map((value, index) => ({ name: `Laboratory ${index + 1}`, value, uncertainty: null })),
      }),
    );
    const { robust_mean: mean, robust_sd: deviation } = copper.algorithmA;
    expect(Number(body?.['z'])).toBeCloseTo((28.95 - mean) / deviation, 8);
    expect(body).toMatchObject({ verdict: 'unsatisfactory' });
  });

  it('has the published history of scores for an allergen, round by round', async () => {
    const { per_allergen: figures } = reference<{
      readonly per_allergen: Readonly<
        Record<string, { readonly n: number; readonly mean_z: number; readonly action_3: number }>
      >;
    }>('score-histories/figures.json');
    const scores = rowsOfCsv('score-histories/allergens.csv').filter(([which]) => which === '2');
    const trial = await laboratoryTrial();
    for (const [, year, quarter, z] of scores) {
      recorded(
        await record(trial, {
          round: `A-${year}-${quarter}`,
          characteristic: 'Allergen 2',
          unit: 'score',
          day: `${year}-${String(3 * Number(quarter)).padStart(2, '0')}-28`,
          // A score is a result of itself: assigned 0, deviation 1.
          assigned: { kind: 'given', value: 0, expanded: 0.001, coverageFactor: 2 },
          assessment: { kind: 'given', standardDeviation: 1 },
          own: { value: Number(z), uncertainty: null },
        }),
      );
    }
    const [history] = (await trial.ask('proficiency-rounds', {}, 'auditor')) as {
      words: string;
      drawings: { levels: { y: number }[] }[];
      rounds: { round: string; score: number; open: string[] }[];
    }[];
    const right = figures['2'];
    expect(history?.rounds).toHaveLength(right?.n ?? 0);
    const sum = history?.rounds.reduce((total, one) => total + one.score, 0) ?? 0;
    expect(sum / (right?.n ?? 1)).toBeCloseTo(right?.mean_z ?? 0, 10);
    const beyond = history?.rounds.filter(({ open }) =>
      open.includes('its score lies at 3 or beyond'),
    );
    expect(beyond).toHaveLength(right?.action_3 ?? 0);
    expect(history?.drawings[0]?.levels.map(({ y }) => y)).toEqual([-3, -2, 0, 2, 3]);
  });
});

describe('a round that signals', () => {
  const far = { own: { value: 917.4, uncertainty: { expanded: 0.2, coverageFactor: 2 } } };
  const answer = (trial: Trial, name = 'PT-1', author = 'chief') =>
    trial.do(
      'answer-proficiency-round',
      { round: name, finding: 'cause removed', reason: 'The proof gold was worn out.' },
      author,
    );

  it('waits on the docket until the chief assayer says what was found', async () => {
    const trial = await laboratoryTrial();
    recorded(await record(trial, far));
    const [paper] = await docket(trial);
    expect(paper).toMatchObject({
      path: '/laboratory/proficiency/PT-1',
      weight: 'look',
      why: 'In it the result is unsatisfactory; the stated uncertainties do not cover the deviation; its score lies at 3 or beyond.',
    });
    recorded(await answer(trial));
    expect(await docket(trial)).toEqual([]);
    const shown = await trial.ask('proficiency-round', { round: 'PT-1' }, 'auditor');
    expect(shown).toMatchObject({ open: [], answered: { finding: 'cause removed' } });
    expect(refusals(await answer(trial))).toEqual(['RoundWithoutSignal']);
  });

  it('is none where everything is in order, or where there is no round', async () => {
    const trial = await laboratoryTrial();
    recorded(await record(trial));
    expect(refusals(await answer(trial))).toEqual(['RoundWithoutSignal']);
    expect(refusals(await answer(trial, 'PT-9'))).toEqual(['RoundUnknown']);
    expect(await trial.ask('proficiency-round', { round: 'PT-9' }, 'auditor')).toBeNull();
  });

  it('can be six rounds on one side, each in order for itself', async () => {
    const trial = await laboratoryTrial();
    for (let number = 1; number <= 6; number += 1) {
      const change = { round: `PT-${number}`, day: `2026-02-0${number}` };
      recorded(await record(trial, change));
    }
    const papers = await docket(trial);
    expect(papers.map(({ why }) => why)).toEqual(['In it six scores in a row lie on one side.']);
  });
});
