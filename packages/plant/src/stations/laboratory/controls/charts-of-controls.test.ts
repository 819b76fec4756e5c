import { describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { reagentLotOf, referenceMaterialOf } from '../../registers/index.ts';
import { chartPoints } from '../chart-books.ts';
import { chartDocket } from '../chart-docket.ts';
import { cutMelt, laboratoryTrial, reading, recorded, refusals } from '../laboratory-trial.ts';
import {
  cleanBlank,
  differenceRun,
  fineSilver,
  reference,
  trialWithMethod,
} from './controls-trial.ts';

const titrant = {
  lot: 'KBR-3',
  reagent: 'potassium bromide 0.1 mol/L',
  supplier: 'Made here',
  supplierLot: 'Worksheet 12',
  expires: '2026-06-30',
  isTitrant: true,
};

/** The figures of the catalogue's example: 301.25 mg in 27.912 mL and 300.87 mg in 27.879 mL. */
const determination = {
  assayRun: 'T-1',
  lot: 'KBR-3',
  referenceMaterial: 'RM-AG-1',
  standards: [
    { label: 'S1', minutes: 0, silver: reading('301.250', 'mg'), volumeMillilitres: 27.912 },
    { label: 'S2', minutes: 90, silver: reading('300.870', 'mg'), volumeMillilitres: 27.879 },
  ],
  blankMillilitres: 0,
  blankStandardUncertaintyMillilitres: 0.002,
  drift: 'bracketing',
  volumeStandardUncertaintyMillilitres: 0.002,
  repeatabilityPerMille: 0.1,
  instrument: 'B-1',
};

async function withTitrant() {
  const trial = await laboratoryTrial();
  const certified = [{ quantity: 'fineness', value: 1000, unit: '‰', standardUncertainty: 0.02 }];
  recorded(await trial.do('receive-reference-material', { ...fineSilver, certified }, 'assayer'));
  recorded(await trial.do('receive-reagent-lot', titrant, 'assayer'));
  const determine = (change: object = {}) =>
    trial.do('determine-titre', { ...determination, ...change }, 'assayer');
  const open = async () =>
    recorded(
      await trial.do('open-reagent-lot', { lot: 'KBR-3', expires: '2026-06-30' }, 'assayer'),
    );
  return { trial, determine, open };
}

const listed = async (trial: Trial) =>
  (await trial.ask('control-charts', {}, 'chief')) as {
    chart: string;
    title: string;
    unit: string;
  }[];

describe('the factor of a titrant', () => {
  it('is determined against certified silver, and stands at the lot and on its chart', async () => {
    const { trial, determine, open } = await withTitrant();
    await open();
    const [body, stated, used] = recorded(await determine());
    // ISO 11427's equation with these figures: 10.79242 mg/mL, as in the calculation's own example.
    expect(
      Number(
        (body as { titrant?: { factorMilligramsPerMillilitre: number } } | undefined)?.titrant
          ?.factorMilligramsPerMillilitre,
      ),
    ).toBeCloseTo(10.79242, 5);
    expect(stated).toMatchObject({ lot: 'KBR-3', determinedIn: 'T-1' });
    expect(used).toMatchObject({ massMicrograms: 602_120, usedFor: 'T-1' });
    const lot = await reagentLotOf(trial.books, 'KBR-3');
    expect(lot?.factor?.factorMilligramsPerMillilitre).toBeCloseTo(10.79242, 5);
    expect(lot?.factor?.standardUncertaintyMilligramsPerMillilitre).toBeGreaterThan(0);
    expect((await referenceMaterialOf(trial.books, 'RM-AG-1'))?.massRemainingMicrograms).toBe(
      5_000_000 - 602_120,
    );
    expect(await listed(trial)).toMatchObject([
      { chart: 'titrant-factor.KBR-3', title: 'Titrant factor KBR-3', unit: 'mg/mL' },
    ]);
    expect(refusals(await determine())).toEqual(['AssayRunAlreadyUsed']);
  });

  it('needs an open titrant and silver whose fineness is certified', async () => {
    const { trial, determine, open } = await withTitrant();
    expect(refusals(await determine())).toEqual(['ReagentLotNotOpen']);
    await open();
    const acid = { ...titrant, lot: 'ACID-1', isTitrant: false };
    recorded(await trial.do('receive-reagent-lot', acid, 'assayer'));
    recorded(
      await trial.do('open-reagent-lot', { lot: 'ACID-1', expires: '2026-06-30' }, 'assayer'),
    );
    expect(refusals(await determine({ lot: 'ACID-1' }))).toEqual(['NotATitrant']);
    const certified = [{ quantity: 'Cu', value: 3, unit: 'mg/kg', standardUncertainty: 1 }];
    const bare = { ...fineSilver, referenceMaterial: 'RM-2', certified };
    recorded(await trial.do('receive-reference-material', bare, 'assayer'));
    expect(refusals(await determine({ referenceMaterial: 'RM-2' }))).toEqual([
      'CertifiedValueMissing',
    ]);
    expect(refusals(await determine({ instrument: 'B-OLD' }))).toEqual(['CalibrationOverdue']);
    const [first] = determination.standards;
    const impossible = [first, { ...first, label: 'S2' }];
    expect(refusals(await determine({ standards: impossible }))).toEqual(['ReadingsNotAccepted']);
  });
});

describe('the charts of reference materials and blanks', () => {
  it('get a point from every run, in the unit of the quantity', async () => {
    const { trial, blanks } = await trialWithMethod();
    recorded(await differenceRun(trial, { assayRun: 'D-1', blanks, references: [reference(301)] }));
    const points = await trial.books.select(chartPoints);
    const values = new Map(points.map((point) => [point.chart, point.value]));
    expect(values.get('reference-material.RM-AG-1.Cu')).toBe(301);
    expect(values.get('reference-material.RM-AG-1.fineness')).toBeCloseTo(999.699, 9);
    expect(values.get('blank.AG-DIFF.Cu')).toBe(0.2);
    expect(
      (await listed(trial)).map(({ chart, title, unit }) => [chart, title, unit]),
    ).toContainEqual(['reference-material.RM-AG-1.Cu', 'Reference material RM-AG-1, Cu', 'mg/kg']);
    // A control may bear the label of a determination: it stays when that is discarded.
    const discard = { assayRun: 'D-1', label: 'L1', reason: 'The vessel was cracked.' };
    recorded(await trial.do('discard-determination', discard, 'assayer'));
    const left = (await trial.books.select(chartPoints)).filter(
      ({ state }) => state === 'left out',
    );
    expect(left.map(({ chart }) => chart)).toEqual(['duplicate-range.heron-31']);
  });

  it('signal on the docket by their own name', async () => {
    const { trial, blanks } = await trialWithMethod();
    let melt = 'M-1';
    let cut: readonly string[] = blanks;
    const taken = reading('50.000', 'mg');
    for (let index = 0; index < 12; index += 1) {
      if (index > 0 && index % 4 === 0) {
        melt = `M-${index}`;
        cut = (await cutMelt(trial, melt, 'heron-31')).forAssay;
      }
      const content = index === 11 ? 312 : 300 + ([0.5, -0.5, 1, -1][index % 4] ?? 0);
      const controls = { blanks: [cleanBlank] };
      const run = { assayRun: `D-${index}`, melt, blanks: cut.slice(0, 1), controls };
      recorded(await differenceRun(trial, { ...run, references: [reference(content, { taken })] }));
    }
    const papers = await chartDocket(trial.books);
    expect(papers.map((paper) => paper.what)).toContain(
      'The chart of the reference material RM-AG-1, Cu signals: Western Electric rule 1.',
    );
  });
});
