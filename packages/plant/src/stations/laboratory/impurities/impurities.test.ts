import { describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { laboratoryDocket } from '../docket.ts';
import { trialOf } from '../index.ts';
import { cutMelt, heron, laboratoryTrial, recorded, refusals } from '../laboratory-trial.ts';

/** Invented limits: no standard's table. */
const egret = {
  ...heron,
  pieceStandard: 'egret-31',
  title: 'Egret 31 g',
  impurityTable: {
    edition: 'second edition of the plant',
    limits: [
      { element: 'Cu', limitMilligramsPerKilogram: 400 },
      { element: 'Pb', limitMilligramsPerKilogram: 50 },
    ],
  },
};

const found = (element: string, content: number | null, standardUncertainty = 2) => ({
  element,
  contentMilligramsPerKilogram: content,
  standardUncertaintyMilligramsPerKilogram: standardUncertainty,
  detectionLimitMilligramsPerKilogram: 5,
});

type Contents = readonly ReturnType<typeof found>[];

async function cutEgret(): Promise<{ trial: Trial; forAssay: readonly string[] }> {
  const trial = await laboratoryTrial();
  recorded(await trial.do('register-piece-standard', egret, 'chief'));
  const { forAssay } = await cutMelt(trial, 'M-1', 'egret-31');
  return { trial, forAssay };
}

async function dissolve(
  trial: Trial,
  assayRun: string,
  solutions: readonly (readonly [blank: string, impurities: Contents])[],
) {
  recorded(
    await trial.do(
      'record-difference',
      {
        assayRun,
        melt: 'M-1',
        policy: 'limit',
        instrument: 'S-1',
        solutions: solutions.map(([blank, impurities], index) => ({
          label: `${assayRun}-${index + 1}`,
          blank,
          impurities,
        })),
      },
      'assayer',
    ),
  );
}

async function checked(trial: Trial) {
  const [body] = recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
  recorded(await trial.do('check-result', { melt: 'M-1' }, 'checker'));
  return body;
}

const release = (trial: Trial) =>
  trial.do('rule-melt', { melt: 'M-1', ruling: 'release', reason: 'As found.' }, 'chief');

describe('the impurity table of a piece standard', () => {
  it('lets a melt go whose elements lie within it, the highest of the solutions with its guard band', async () => {
    const { trial, forAssay } = await cutEgret();
    const [a = '', b = ''] = forAssay;
    await dissolve(trial, 'D-1', [
      [a, [found('Cu', 300), found('Pb', null)]],
      [b, [found('Cu', 310), found('Pb', 20)]],
    ]);
    const body = await checked(trial);
    // The guard factor 2 of the standard asks for 0.97725, whose normal quantile is 2 again.
    expect(body).toMatchObject({
      verdict: 'passes',
      impurities: {
        calculation: 'impurity-table-check',
        input: {
          edition: 'second edition of the plant',
          coverageFactor: expect.closeTo(2, 9),
          contents: [
            { element: 'Cu', contentMilligramsPerKilogram: 310 },
            { element: 'Pb', contentMilligramsPerKilogram: 20 },
          ],
        },
        output: { state: 'within' },
      },
    });
    recorded(await release(trial));
  });

  it('refuses to release a melt with an element beyond its limit, though its fineness passes', async () => {
    const { trial, forAssay } = await cutEgret();
    const [a = '', b = ''] = forAssay;
    await dissolve(trial, 'D-1', [
      [a, [found('Cu', 200), found('Pb', 20)]],
      [b, [found('Cu', 200), found('Pb', 60)]],
    ]);
    expect(await checked(trial)).toMatchObject({
      verdict: 'passes',
      impurities: { output: { state: 'beyond' } },
    });
    expect(await release(trial)).toMatchObject({
      refusals: [
        {
          refusal: 'ImpuritiesBeyondTable',
          message: expect.stringContaining('Pb: beyond'),
          figures: { edition: 'second edition of the plant', state: 'beyond' },
        },
      ],
    });
  });

  it('leaves it open where an element was not determined, until a further run finds it', async () => {
    const { trial, forAssay } = await cutEgret();
    const [a = '', b = ''] = forAssay;
    await dissolve(trial, 'D-1', [
      [a, [found('Cu', 200)]],
      [b, [found('Cu', 200)]],
    ]);
    expect(await checked(trial)).toMatchObject({
      impurities: { output: { state: 'not determined' } },
    });
    expect(refusals(await release(trial))).toEqual(['ImpuritiesUndecided']);
    expect((await trialOf(trial.books, 'M-1'))?.trial.impurities).toBe('not determined');
    const [asked] = recorded(
      await trial.do(
        'ask-further-blanks',
        { melt: 'M-1', pieces: 1, reason: 'Lead was not sought.' },
        'assayer',
      ),
    );
    expect(asked).toMatchObject({ cause: 'the impurities are undecided' });
    await dissolve(trial, 'D-2', [[a, [found('Cu', 200), found('Pb', 20)]]]);
    const outcome = await trial.do('sign-result', { melt: 'M-1' }, 'assayer');
    expect(outcome).toMatchObject({
      entries: [
        {
          reason: 'Further determinations after impurities that were undecided.',
          body: { impurities: { output: { state: 'within' } } },
        },
      ],
    });
    recorded(await trial.do('check-result', { melt: 'M-1' }, 'checker'));
    recorded(await release(trial));
  });

  it('stops the paper on the docket, and shows on the page of the melt', async () => {
    const { trial, forAssay } = await cutEgret();
    const high = [found('Cu', 200), found('Pb', 49)];
    await dissolve(
      trial,
      'D-1',
      forAssay.map((blank) => [blank, high] as const),
    );
    await checked(trial);
    expect(await laboratoryDocket(trial.books)).toMatchObject([
      { weight: 'stopped', why: expect.stringContaining('Pb: undecided') },
    ]);
    expect(await trial.ask('melt-trial', { melt: 'M-1' }, 'chief')).toMatchObject({
      impurityTable: egret.impurityTable,
      further: { mayAskSince: 'the impurities are undecided' },
    });
  });
});

describe('a piece standard with an impurity table', () => {
  it.each([
    ['a metal that is cupelled', { assayMethod: 'cupellation' }, 'impurityTable'],
    [
      'an element twice',
      {
        impurityTable: {
          ...egret.impurityTable,
          limits: [1, 2].map(() => egret.impurityTable.limits[0]),
        },
      },
      'impurityTable.limits.1.element',
    ],
    [
      'a symbol of no element',
      {
        impurityTable: {
          ...egret.impurityTable,
          limits: [{ element: 'Xx', limitMilligramsPerKilogram: 1 }],
        },
      },
      'impurityTable.limits.0.element',
    ],
  ])('is refused for %s', async (_, change, field) => {
    const trial = await laboratoryTrial();
    expect(
      await trial.do('register-piece-standard', { ...egret, ...change }, 'chief'),
    ).toMatchObject({
      refusals: [{ field }],
    });
  });
});
