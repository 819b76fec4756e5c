import { calculationById, type EndPointOutput, runCalculation } from '@cupel/calculation';
import type { Station } from '../../../journal/station.ts';
import type { Trial } from '../../../journal/trial.ts';
import {
  cutMelt,
  heron,
  instrument,
  laboratoryTrial,
  reading,
  recorded,
} from '../laboratory-trial.ts';
import { endPointInputOf } from './confirm-end-point.ts';
import type { StatedTitration, TitrationCommand } from './inputs.ts';

/** An invented silver piece of 31.1 g, titrated. */
export const egret = {
  ...heron,
  pieceStandard: 'egret-31',
  title: 'Egret 31 g',
  finenessDeclaredPartsPerMillion: 925_000,
  finenessLimitPerMille: 925,
  assayMethod: 'titration',
  duplicateLimitPerMille: 0.5,
};

/** A laboratory that titrates: a piece, a burette, and assayers authorised for it. */
export async function titrationTrial(downstream: readonly Station[] = []): Promise<Trial> {
  const trial = await laboratoryTrial(downstream);
  recorded(await trial.do('register-piece-standard', egret, 'chief'));
  recorded(await trial.do('register-instrument', instrument('V-1', 'burette'), 'chief'));
  const methods = [{ method: 'titration', until: '2026-06-30' }];
  for (const person of ['assayer', 'checker']) {
    const change = { person, name: `The ${person}`, roles: ['assayer'], active: true, methods };
    recorded(await trial.do('change-person', change, 'chief'));
  }
  return trial;
}

const molesPerLitre = 0.1;
const startVolumeMillilitres = 100;
/** Of silver bromide, rounded. */
const solubilityProduct = 5e-13;

/** Potential of a silver electrode by the equation of Nernst while silver is titrated. */
function potentialAt(volume: number, endPoint: number): number {
  const excess = (molesPerLitre * (endPoint - volume)) / (startVolumeMillilitres + volume);
  const root = Math.sqrt(excess * excess + 4 * solubilityProduct);
  // After the end point the difference of two near numbers is taken by its conjugate.
  const silver = excess > 0 ? (excess + root) / 2 : (2 * solubilityProduct) / (root - excess);
  return 500 + 59.16 * Math.log10(silver);
}

/** A curve whose end point is known, read closely about its jump. */
export function curveWithEndPoint(endPoint: number): StatedTitration['curve'] {
  const places = [-8, -5, -3, -2, -1, -0.5, -0.2, -0.11, -0.05, 0.01, 0.07, 0.15, 0.4, 1, 2, 4];
  return places.map((place) => {
    const volumeMillilitres = Math.round(1000 * (endPoint + place)) / 1000;
    return { volumeMillilitres, potentialMillivolts: potentialAt(volumeMillilitres, endPoint) };
  });
}

const bromideMethod = {
  kind: 'precipitation curve',
  startVolumeMillilitres,
  electrode: { kind: 'fitted' },
} as const satisfies TitrationCommand['method'];

/** What the calculation finds on a curve, as the assayer sees it before he confirms. */
export function foundOn(
  curve: StatedTitration['curve'],
  method: TitrationCommand['method'] = bromideMethod,
): number {
  const input = endPointInputOf(curve, { method, buretteStandardUncertaintyMillilitres: 0.002 });
  const result = runCalculation(calculationById('end-point'), input);
  if (result.outcome === 'refused') throw new RangeError(JSON.stringify(result.problems));
  return (result.output as EndPointOutput).endPointMillilitres;
}

/** A vessel titrated to an end point, which the assayer confirms as found. */
export function titratedTo(endPoint: number, minutes: number) {
  const curve = curveWithEndPoint(endPoint);
  const confirmed = { endPointConfirmedMillilitres: foundOn(curve) };
  return { minutes, curve, origin: 'file' as const, fileName: 'run.csv', ...confirmed };
}

/** Silver of 300 mg takes so much titrant: 0.1 mol/L answers for 10.786 82 mg/mL. */
export const standardMillilitres = 27.812;
const portionMilligrams = 325;

/** The end point of a portion of that fineness, by the factor of the standards. */
const millilitresOf = (finenessPerMille: number): number =>
  (portionMilligrams * finenessPerMille * standardMillilitres) / 300_000;

/** A run of two standards around portions of those finenesses. */
export function titrationOf(run: {
  readonly assayRun: string;
  readonly melt: string;
  readonly portions: readonly (readonly [blank: string, finenessPerMille: number])[];
  readonly changes?: object;
}) {
  const { assayRun, melt, portions } = run;
  const standard = (label: string, minutes: number) => ({
    label,
    silver: reading('300.000', 'mg'),
    ...titratedTo(standardMillilitres, minutes),
  });
  return {
    assayRun,
    melt,
    titrant: 'KBR-12',
    halide: 'bromide' as const,
    titrantMolesPerLitre: molesPerLitre,
    method: bromideMethod as TitrationCommand['method'],
    drift: 'bracketing' as const,
    silverFinenessPerMille: 999.99,
    silverStandardUncertaintyPerMille: 0.01,
    buretteStandardUncertaintyMillilitres: 0.002,
    reagentBlank: { kind: 'none' as const },
    standards: [standard('S1', 0), standard('S2', 60)],
    samples: portions.map(([blank, fineness], index) => ({
      label: `A${index + 1}`,
      blank,
      sample: reading(String(portionMilligrams), 'mg'),
      ...titratedTo(millilitresOf(fineness), 20 * (index + 1)),
    })),
    balance: 'B-1',
    instrument: 'V-1',
    ...run.changes,
  };
}

/** A melt of the titrated piece whose blanks are measured and cut. */
export const cutSilver = (trial: Trial, melt: string) => cutMelt(trial, melt, 'egret-31');
