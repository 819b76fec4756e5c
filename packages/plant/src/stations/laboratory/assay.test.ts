import { calculationById, runCalculation } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import type { Calculated } from '../../journal/calculated.ts';
import type { Trial } from '../../journal/trial.ts';
import { resultOf, trialOf, verdictOf } from './index.ts';
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
} from './laboratory-trial.ts';

type Portions = readonly (readonly [string, number])[];

const run = (trial: Trial, assayRun: string, portions: Portions, more: object = {}) =>
  cupel(trial, { assayRun, melt: 'M-1', portions, ...more });
const sign = (trial: Trial, author = 'assayer') => trial.do('sign-result', { melt: 'M-1' }, author);
const check = (trial: Trial, author = 'checker') =>
  trial.do('check-result', { melt: 'M-1' }, author);
const sendBack = (trial: Trial, author = 'checker') =>
  trial.do('send-back-result', { melt: 'M-1', reason: 'Portion B was mixed up.' }, author);
const discard = (trial: Trial, assayRun: string, label: string, author = 'assayer') =>
  trial.do('discard-determination', { assayRun, label, reason: 'Cupel cracked.' }, author);
const stage = async (trial: Trial) => (await trialOf(trial.books, 'M-1'))?.trial.stage;

/** The output again from the input alone, compared as the record keeps it: as JSON, without −0. */
function expectRecomputes(calculated: Calculated | undefined): void {
  const again = runCalculation(calculationById(String(calculated?.calculation)), calculated?.input);
  const output = again.outcome === 'computed' ? again.output : again.problems;
  expect(JSON.parse(JSON.stringify(output))).toEqual(calculated?.output);
}

/** A melt cut for assay, with the names of its two blanks. */
async function atAssay() {
  const trial = await laboratoryTrial();
  const { forAssay } = await cutMelt(trial, 'M-1');
  const [a = '', b = ''] = forAssay;
  return { trial, a, b };
}

describe('a cupellation run', () => {
  it('keeps readings, calculation and determinations, and can be computed again', async () => {
    const { trial, a, b } = await atAssay();
    const [body] = recorded(
      await run(trial, 'R-1', [
        [a, 916.8],
        [b, 916.9],
      ]),
    );
    expect(body).toMatchObject({
      assayRun: 'R-1',
      melt: 'M-1',
      state: 'valid',
      voidReason: null,
      extractionConfirmed: true,
      samples: [
        {
          label: 'S1',
          blank: a,
          sample: reading('250.000', 'mg'),
          cornet: reading('229.200', 'mg'),
        },
        {
          label: 'S2',
          blank: b,
          sample: reading('250.000', 'mg'),
          cornet: reading('229.225', 'mg'),
        },
      ],
    });
    expectRecomputes((body as { cupellation: Calculated } | undefined)?.cupellation);
    const { determinations } = (await trialOf(trial.books, 'M-1')) ?? { determinations: [] };
    expect(determinations.map((one) => [one.label, one.blank, one.state])).toEqual([
      ['S1', a, 'valid'],
      ['S2', b, 'valid'],
    ]);
    // Proofs without loss: the fineness is cornet over portion.
    expect(determinations[0]?.finenessPerMille).toBeCloseTo(916.8, 9);
    expect(await stage(trial)).toBe('to be signed');
  });

  it('is recorded as void when the proofs lie beyond their limit, and cannot be signed', async () => {
    const { trial, a, b } = await atAssay();
    const proofCornets = ['229.200', '229.400'];
    const [body] = recorded(
      await run(
        trial,
        'R-1',
        [
          [a, 916.8],
          [b, 916.8],
        ],
        { proofCornets },
      ),
    );
    // The limit is 0.5 ‰ of 229.2 mg; the losses differ by 0.2 mg.
    expect(body).toMatchObject({
      state: 'void',
      voidReason: 'The losses of the proofs spread over 0.2 mg; the limit is 0.1146 mg.',
    });
    expect(refusals(await sign(trial))).toEqual(['DeterminationsMissing']);
    expect(refusals(await discard(trial, 'R-1', 'S1'))).toEqual(['DeterminationNotValid']);
    const { determinations } = (await trialOf(trial.books, 'M-1')) ?? { determinations: [] };
    expect(determinations.map((one) => one.state)).toEqual(['void', 'void']);
  });

  it('is refused without the confirmation that the extraction runs', async () => {
    const { trial, a } = await atAssay();
    const changes = { extractionConfirmed: false };
    const outcome = await run(trial, 'R-1', [[a, 916.8]], { changes });
    expect(outcome).toMatchObject({
      outcome: 'refused',
      refusals: [
        {
          refusal: 'InputNotAccepted',
          field: 'extractionConfirmed',
          figures: { accepted: 'true, once the extraction over furnace and parting acid runs' },
        },
      ],
    });
  });

  it('is refused to an assayer without authorisation, and once the authorisation has run out', async () => {
    const { trial, a } = await atAssay();
    expect(refusals(await run(trial, 'R-1', [[a, 916.8]], { author: 'novice' }))).toEqual([
      'NotAuthorisedForMethod',
    ]);
    trial.now = Date.parse('2026-06-30T20:00:00.000Z');
    recorded(await run(trial, 'R-1', [[a, 916.8]]));
    trial.now = Date.parse('2026-07-01T01:00:00.000Z');
    expect(refusals(await run(trial, 'R-2', [[a, 916.8]]))).toEqual(['NotAuthorisedForMethod']);
  });

  it('is refused for blanks that are not cut or not drawn, a name used before, another method', async () => {
    const { trial, a } = await atAssay();
    recorded(await run(trial, 'R-1', [[a, 916.8]]));
    const story = await trialOf(trial.books, 'M-1');
    const uncut = story?.blanks.find((row) => row.cut === null)?.blank ?? '';
    expect(
      refusals(
        await run(trial, 'R-1', [
          [uncut, 916.8],
          ['M-2/1', 916.8],
        ]),
      ),
    ).toEqual(['BlankNotDrawn', 'BlankNotCut', 'AssayRunAlreadyUsed']);
    await cutMelt(trial, 'M-3', 'heron-31');
    const heron = await trialOf(trial.books, 'M-3');
    const portions = [[heron?.blanks.find((row) => row.cut)?.blank ?? '', 916.8]] as const;
    expect(refusals(await cupel(trial, { assayRun: 'R-3', melt: 'M-3', portions }))).toEqual([
      'MethodDiffers',
    ]);
  });

  it('is refused when readings contradict one another, with the reading at fault', async () => {
    const { trial, a } = await atAssay();
    const samples = (sample: string, unit: string, cornet: string) => ({
      changes: {
        samples: [
          { label: 'S1', blank: a, sample: reading(sample, unit), cornet: reading(cornet, 'mg') },
        ],
      },
    });
    const swapped = await run(trial, 'R-1', [], samples('229.2', 'mg', '250.0'));
    expect(swapped).toMatchObject({
      refusals: [{ refusal: 'ReadingsNotAccepted', field: 'samples.0.cornet' }],
    });
    const pure = await run(trial, 'R-1', [], samples('250', 'mg', '250.1'));
    expect(refusals(pure)).toEqual(['ReadingsNotAccepted']);
    const unitSlip = await run(trial, 'R-1', [], samples('250', 'g', '229.2'));
    expect(refusals(unitSlip)).toEqual(['PortionsExceedBlank']);
  });
});

describe('the result of a melt', () => {
  it('is the mean with an uncertainty that does not average down what the proofs share', async () => {
    const { trial, a, b } = await atAssay();
    recorded(
      await run(trial, 'R-1', [
        [a, 917.4],
        [b, 917.4],
      ]),
    );
    const [body] = recorded(await sign(trial));
    // By hand after JCGM 100:2008, 5.1.2: a weighing 0.0104083 mg, repeatability 0.5/2.8 ‰;
    // own² = 0.0350799, the run's part² = 0.0176772; u² = 0.0350799/2 + 0.0176772.
    expect(body?.finenessPerMille).toBeCloseTo(917.4, 9);
    expect(body?.standardUncertaintyPerMille).toBeCloseTo(0.187662, 6);
    expect(body).toMatchObject({
      verdict: 'passes',
      scope: 'inside',
      degreesOfFreedom: null,
      supersedes: null,
    });
    expect(await stage(trial)).toBe('to be checked');
  });

  it.each([
    [917.4, 'passes'],
    [916.8, 'undecided'],
    [916.0, 'fails'],
  ])(
    'of %d ‰ against 916.6 ‰ with a guard band of 0.375 ‰ has the verdict: %s',
    async (fineness, verdict) => {
      const trial = await laboratoryTrial();
      await checkedMelt(trial, 'M-1', fineness);
      const found = await verdictOf(trial.books, 'M-1');
      expect(found?.verdict).toBe(verdict);
      expect(found?.decision.output.guardBandPerMille).toBeCloseTo(0.375, 2);
    },
  );

  it('needs two determinations that agree, or four, from as many blanks as were drawn for assay', async () => {
    const { trial, a, b } = await atAssay();
    expect(refusals(await sign(trial))).toEqual(['DeterminationsMissing']);
    recorded(await run(trial, 'R-1', [[a, 917]]));
    expect(refusals(await sign(trial))).toEqual(['DeterminationsMissing']);
    recorded(await run(trial, 'R-2', [[a, 917.1]]));
    expect(refusals(await sign(trial))).toEqual(['BlanksForAssayMissing']);
    recorded(await run(trial, 'R-3', [[b, 918]]));
    // Three results spread over 1.0 ‰; the critical range is 0.5·3.3/2.8: one more is needed.
    const outcome = await sign(trial);
    expect(outcome).toMatchObject({
      refusals: [{ refusal: 'DeterminationsMissing', figures: { furtherResultsNeeded: 1 } }],
    });
    recorded(await run(trial, 'R-4', [[b, 917.2]]));
    const [body] = recorded(await sign(trial));
    // Four still spread beyond 0.5·3.6/2.8: the median of 917, 917.1, 917.2, 918 (ISO 5725-6).
    expect(body?.finenessPerMille).toBeCloseTo(917.15, 9);
    expect(body).toMatchObject({ uncertainty: { input: { statistic: 'median of four' } } });
  });

  it('rests on at most ten determinations; a void run does not count among them', async () => {
    const { trial, a, b } = await atAssay();
    const four = [a, b, a, b].map((blank) => [blank, 917] as const);
    recorded(await run(trial, 'R-0', four));
    recorded(await run(trial, 'R-1', four));
    recorded(await run(trial, 'R-5', [[a, 917]]));
    expect(
      refusals(
        await run(trial, 'R-2', [
          [a, 917],
          [b, 917],
        ]),
      ),
    ).toEqual(['TooManyDeterminations']);
    const proofCornets = ['229.200', '229.400'];
    recorded(
      await run(
        trial,
        'R-3',
        [
          [a, 917],
          [b, 917],
        ],
        { proofCornets },
      ),
    );
    recorded(await run(trial, 'R-4', [[b, 917]]));
    recorded(await sign(trial));
  });

  it('leaves out a discarded determination, which stays visible with its reason', async () => {
    const { trial, a, b } = await atAssay();
    recorded(
      await run(trial, 'R-1', [
        [a, 917],
        [b, 930],
        [b, 917.1],
      ]),
    );
    expect(refusals(await discard(trial, 'R-1', 'S9'))).toEqual(['DeterminationUnknown']);
    recorded(await discard(trial, 'R-1', 'S2'));
    expect(refusals(await discard(trial, 'R-1', 'S2'))).toEqual(['DeterminationNotValid']);
    const [body] = recorded(await sign(trial));
    expect(body?.finenessPerMille).toBeCloseTo(917.05, 9);
    const { determinations } = (await trialOf(trial.books, 'M-1')) ?? { determinations: [] };
    expect(determinations[1]).toMatchObject({
      label: 'S2',
      state: 'discarded',
      discarded: { author: 'assayer', reason: 'Cupel cracked.' },
    });
    expect(refusals(await discard(trial, 'R-1', 'S1'))).toEqual(['ResultAlreadySigned']);
  });

  it('is signed once by an authorised assayer and checked by another who had no part in it', async () => {
    const { trial, a, b } = await atAssay();
    recorded(
      await run(trial, 'R-1', [
        [a, 917.4],
        [b, 917.4],
      ]),
    );
    expect(refusals(await check(trial))).toEqual(['ResultNotSigned']);
    expect(refusals(await sign(trial, 'novice'))).toEqual(['NotAuthorisedForMethod']);
    recorded(await sign(trial, 'checker'));
    expect(refusals(await sign(trial))).toEqual(['ResultAlreadySigned']);
    expect(refusals(await run(trial, 'R-2', [[a, 917.4]]))).toEqual(['ResultAlreadySigned']);
    const byAuthor = await check(trial, 'assayer');
    expect(byAuthor).toMatchObject({
      refusals: [
        {
          refusal: 'CheckerTookPart',
          message: 'assayer recorded a run of melt M-1 and cannot check it.',
        },
      ],
    });
    expect(refusals(await check(trial, 'checker'))).toEqual(['CheckerTookPart']);
    expect(refusals(await check(trial, 'novice'))).toEqual(['NotAuthorisedForMethod']);
  });

  it('has no verdict for others before it is checked, and then with every reading', async () => {
    const { trial, a, b } = await atAssay();
    recorded(
      await run(trial, 'R-1', [
        [a, 917.4],
        [b, 917.4],
      ]),
    );
    recorded(await sign(trial));
    expect(await verdictOf(trial.books, 'M-1')).toBeUndefined();
    expect(await resultOf(trial.books, 'M-1')).toBeUndefined();
    recorded(await check(trial));
    expect(refusals(await check(trial))).toEqual(['ResultAlreadyChecked']);
    expect(await verdictOf(trial.books, 'M-1')).toMatchObject({ verdict: 'passes' });
    const result = await resultOf(trial.books, 'M-1');
    expect(result?.result.checked?.author).toBe('checker');
    expect(result?.blanks).toHaveLength(13);
    expect(result?.calculated.map((one) => one.calculation)).toEqual([
      'cupellation',
      'replicate-acceptance',
      'verdict-at-stated-risk',
    ]);
    for (const one of result?.calculated ?? []) expectRecomputes(one);
    expect(await stage(trial)).toBe('to be ruled');
  });

  it('can be sent back with a reason, worked on and signed again, naming the first', async () => {
    const { trial, a, b } = await atAssay();
    recorded(
      await run(trial, 'R-1', [
        [a, 917.4],
        [b, 917.4],
        [b, 917.3],
      ]),
    );
    const first = await sign(trial);
    recorded(await sendBack(trial));
    expect(await stage(trial)).toBe('to be signed');
    recorded(await discard(trial, 'R-1', 'S2'));
    const second = await sign(trial);
    const number = first.outcome === 'recorded' ? first.entries[0]?.number : undefined;
    expect(second.outcome === 'recorded' && second.entries[0]).toMatchObject({
      corrects: number,
      reason: 'Sent back: Portion B was mixed up.',
    });
    const story = await trialOf(trial.books, 'M-1');
    expect(story?.results.map((row) => row.state)).toEqual(['sent back', 'signed']);
  });

  it('may be followed by a newer one only while it is undecided, from further determinations', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await checkedMelt(trial, 'M-1', 916.8);
    const [a = '', b = ''] = forAssay;
    expect(refusals(await sign(trial))).toEqual(['ResultAlreadySigned']);
    recorded(
      await run(trial, 'R-2', [
        [a, 917.2],
        [b, 917.2],
      ]),
    );
    const outcome = await sign(trial);
    expect(outcome.outcome === 'recorded' && outcome.entries[0]?.reason).toBe(
      'Further determinations after an undecided verdict.',
    );
    const story = await trialOf(trial.books, 'M-1');
    expect(story?.results.map((row) => row.state)).toEqual(['superseded', 'signed']);
    expect(story?.trial.stage).toBe('to be checked');
  });
});

const impurity = (element: string, content: number | null, standardUncertainty: number) => ({
  element,
  contentMilligramsPerKilogram: content,
  standardUncertaintyMilligramsPerKilogram: standardUncertainty,
  detectionLimitMilligramsPerKilogram: 2,
});

const difference = (trial: Trial, solutions: readonly object[], melt = 'M-1') =>
  trial.do(
    'record-difference',
    { assayRun: 'D-1', melt, policy: 'limit', solutions, instrument: 'S-1' },
    'assayer',
  );

describe('fineness by difference', () => {
  it('takes the impurities of each solution from the whole, and does not average its uncertainty', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1', 'heron-31');
    const solutions = forAssay.map((blank, index) => ({
      label: `L${index + 1}`,
      blank,
      impurities: [impurity('Cu', 300, 8), impurity('Pb', 60, 6), impurity('Au', null, 0)],
    }));
    recorded(await difference(trial, solutions));
    const [body] = recorded(await sign(trial));
    // 1000 − (300 + 60 + 2)/1000 ‰; u² = 8² + 6² + 2²/3 mg²/kg², the same for both solutions.
    expect(body?.finenessPerMille).toBeCloseTo(999.638, 9);
    expect(body?.standardUncertaintyPerMille).toBeCloseTo(Math.sqrt(100 + 4 / 3) / 1000, 9);
    expect(body).toMatchObject({
      method: 'fineness-by-difference',
      verdict: 'passes',
      scope: 'inside',
    });
  });

  it('marks a result below 999 ‰ as outside its scope, and still gives the verdict', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1', 'heron-31');
    const impurities = [impurity('Cu', 1200, 10)];
    const solutions = forAssay.map((blank, index) => ({ label: `L${index}`, blank, impurities }));
    recorded(await difference(trial, solutions));
    const [body] = recorded(await sign(trial));
    expect(body).toMatchObject({ verdict: 'fails', scope: 'outside' });
  });

  it('refuses the base metal as an impurity, a run without uncertainty, and another kind of instrument', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1', 'heron-31');
    const solution = (impurities: readonly object[]) => [
      { label: 'L1', blank: forAssay[0], impurities },
    ];
    const own = await difference(trial, solution([impurity('Ag', 10, 1)]));
    expect(own).toMatchObject({
      refusals: [{ refusal: 'ReadingsNotAccepted', field: 'solutions.0.impurities.0.element' }],
    });
    const certain = await difference(trial, solution([impurity('Cu', 300, 0)]));
    expect(refusals(certain)).toEqual(['ReadingsNotAccepted']);
    const input = { assayRun: 'D-1', melt: 'M-1', policy: 'half', instrument: 'B-1' };
    const weighed = { ...input, solutions: solution([impurity('Cu', 300, 5)]) };
    expect(refusals(await trial.do('record-difference', weighed, 'assayer'))).toEqual([
      'InstrumentUnknown',
    ]);
  });

  it('is refused for a piece that is cupelled', async () => {
    const { trial, a } = await atAssay();
    const solutions = [{ label: 'L1', blank: a, impurities: [impurity('Cu', 300, 5)] }];
    expect(refusals(await difference(trial, solutions))).toEqual(['MethodDiffers']);
  });
});

describe('a melt that was not sampled', () => {
  it('is refused by every command of the assay', async () => {
    const trial = await laboratoryTrial();
    expect(refusals(await run(trial, 'R-1', [['M-1/1', 916.8]]))).toEqual(['MeltUnknown']);
    expect(refusals(await sign(trial))).toEqual(['MeltUnknown']);
    expect(refusals(await check(trial))).toEqual(['MeltUnknown']);
    expect(refusals(await sendBack(trial))).toEqual(['MeltUnknown']);
    const { all } = await sampleMelt(trial, 'M-1');
    recorded(await measure(trial, 'M-1', all));
    expect(refusals(await run(trial, 'R-1', [[all[0] ?? '', 916.8]]))).toEqual(['BlankNotCut']);
  });
});
