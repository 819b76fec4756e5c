import { severityOfSeries } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import { defineCommand, draft } from '../../journal/station.ts';
import { makeTrial, type Trial } from '../../journal/trial.ts';
import { registersStation } from '../registers/station.ts';
import { registerForTrial } from '../registers/trial-registers.ts';
import { lotJudged } from './bodies.ts';
import { LotJudged } from './entries.ts';
import { inspectionHistory } from './inspection-history.ts';
import { seriesOf } from './series.ts';
import { receivingStation } from './station.ts';

const name = { supplier: 'NORTH', pieceStandard: 'GOLD-10' };

/** The laboratory judges lots; here a command of its own stands for it. */
const judge = defineCommand({
  command: 'judge-lot',
  station: 'receiving',
  title: 'Judge',
  input: lotJudged,
  roles: ['inspector'],
  signature: 'none',
  facts: async () => null,
  decide: (input) => ({ entries: [draft(LotJudged, input)] }),
});

async function seriesTrial(nonconforming: readonly number[]): Promise<Trial> {
  const commands = [...receivingStation.commands, judge];
  const trial = await makeTrial([registersStation, { ...receivingStation, commands }]);
  await registerForTrial(trial);
  for (const [index, blanksNonconforming] of nonconforming.entries()) {
    const outcome = await trial.do(
      'judge-lot',
      {
        ...name,
        melt: `M-${index + 1}`,
        consignment: 'C-1',
        outcome: blanksNonconforming > 2 ? 'not accepted' : 'accepted',
        severity: 'normal',
        lotSizePieces: 600,
        blanksForPhysical: 80,
        blanksMeasured: 80,
        blanksNonconforming,
        acceptanceNumber: 2,
        rejectionNumber: 3,
      },
      'inspector',
    );
    if (outcome.outcome === 'refused') throw new Error(JSON.stringify(outcome.refusals));
  }
  return trial;
}

describe('inspectionHistory', () => {
  it('is the catalogue’s calculation with its reason in words and its chart', async () => {
    const trial = await seriesTrial([0, 3, 0, 5]);
    const history = await inspectionHistory(trial.books, name);
    expect(history?.words).toBe(
      'Next lot: tightened inspection. Tightened inspection since lot M-4: lots M-2 and M-4 were not accepted, two within 5 consecutive lots. Since then 0 of 5 lots accepted in a row, 0 of 5 not accepted.',
    );
    expect(history).toMatchObject({
      calculation: 'inspection-severity',
      version: 1,
      drawings: [
        {
          kind: 'chart',
          // Normal (2) for four lots, tightened (3) for the next; lots 2 and 4 stand out.
          series: [{ y: [2, 2, 2, 2, 3] }, { x: [2, 4], standsOut: true }],
        },
      ],
    });
  });

  it('says of each change after which lot it came, and why', async () => {
    const trial = await seriesTrial([0, 3, 0, 5]);
    const history = await inspectionHistory(trial.books, name);
    expect(history?.changes).toEqual([
      {
        event: 'lot judged',
        lot: 'M-4',
        severityAfter: 'tightened',
        why: expect.stringContaining('M-2 and M-4'),
      },
    ]);
    const steady = await seriesTrial([0, 1]);
    expect((await inspectionHistory(steady.books, name))?.changes).toEqual([]);
  });

  it('comes to the severity under which the next lot is ordered', async () => {
    for (const series of [[0], [3, 3], [0, 3, 0, 0, 0, 3], [3, 0, 0, 0, 3], [0, 0, 0, 0, 0, 0]]) {
      const trial = await seriesTrial(series);
      const history = await inspectionHistory(trial.books, name);
      const rows = await seriesOf(trial.books, name);
      const { severity, reason } = severityOfSeries(
        rows.flatMap((row) =>
          row.event === 'lot judged'
            ? [{ event: row.event, lot: row.melt, outcome: row.outcome, severity: row.severity }]
            : [],
        ),
      );
      expect(history?.words).toContain(`Next lot: ${severity} inspection.`);
      expect(history?.words).toContain(reason.split('.')[0]);
    }
  });

  it('is told by the question of the series, and is nothing before a lot was judged', async () => {
    const trial = await seriesTrial([1]);
    const answer = (await trial.ask('inspection-series', name, 'inspector')) as object;
    expect(answer).toMatchObject({ history: { calculation: 'inspection-severity' } });
    const empty = await seriesTrial([]);
    expect(await inspectionHistory(empty.books, name)).toBeNull();
    expect(await inspectionHistory(trial.books, { ...name, pieceStandard: 'OTHER' })).toBeNull();
  });
});
