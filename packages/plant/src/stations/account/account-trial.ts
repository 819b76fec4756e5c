import type { Outcome } from '../../journal/recorder.ts';
import { makeTrial, type Trial, type TrialPeople, trialPeople } from '../../journal/trial.ts';
import { trialMove, trialStation } from '../../journal/trial-station.ts';
import { registersStation } from '../registers/station.ts';
import { accountStation } from './station.ts';

/** The piece of the trial station: of pure metal, so that its fine mass is its gross mass. */
const trialPiece = {
  pieceStandard: 'trial-piece',
  title: 'Trial piece',
  metal: 'gold',
  finenessDeclaredPartsPerMillion: 1_000_000,
  finenessLimitPerMille: 999.9,
  massDeclaredMilligrams: 31_103,
  massLeastMilligrams: 31_103,
  massGreatestMilligrams: 31_200,
  diameterLeastMillimetres: 31.9,
  diameterGreatestMillimetres: 32.1,
  thicknessLeastMillimetres: 2.1,
  thicknessGreatestMillimetres: 2.3,
  pieceStandardDeviationMilligrams: 10,
  lotStandardDeviationMilligrams: 5,
  referencePieces: 50,
  piecesPerTube: 20,
  tubesPerBox: 25,
  tubeTareGrams: 20,
  tubeTareStandardDeviationGrams: 0.1,
  boxTareGrams: 800,
  boxTareStandardDeviationGrams: 1,
  assayMethod: 'cupellation',
  blanksForAssayPerMelt: 2,
  inspectionLevel: 'II',
  acceptanceQualityLimitPercent: 0.65,
  guardFactor: 2,
  requiredConformanceProbability: 0.95,
  duplicateLimitPerMille: 0.3,
  priorMiscountProbability: 0.0002,
  badWeighingProbability: 0.001,
  badWeighingSpreadGrams: 20,
};

const balance = (instrument: string, place: string, calibrationDue = '2026-12-31') => ({
  instrument,
  title: `Balance ${instrument}`,
  kind: 'balance',
  place,
  divisionGrams: 0.1,
  repeatabilityGrams: 0.05,
  gainRelative: 0.00001,
  calibrationDue,
});

function must(outcome: Outcome): void {
  if (outcome.outcome === 'refused') throw new RangeError(JSON.stringify(outcome.refusals));
}

/**
 * A plant with the registers, the trial station that moves pieces, and the account. Receiving and
 * put-up have a balance each; B-OLD is overdue, and F-1 is a furnace.
 */
export async function accountTrial(
  options: { people?: TrialPeople } = {},
): Promise<Trial & { move: typeof move }> {
  const trial = await makeTrial([registersStation, trialStation, accountStation], {
    people: { plant: ['chief assayer'], ...trialPeople, ...options.people },
  });
  const founding = {
    title: 'Trial Plant',
    timeZone: 'UTC',
    firstPerson: { person: 'chief', name: 'Chief' },
  };
  must(await trial.do('found-plant', founding, 'plant'));
  must(await trial.do('register-piece-standard', trialPiece, 'chief'));
  const instruments = [
    balance('B-IN', 'receiving'),
    balance('B-UP', 'put-up'),
    balance('B-OLD', 'put-up', '2026-02-28'),
    {
      ...balance('F-1', 'laboratory'),
      kind: 'furnace',
      divisionGrams: null,
      repeatabilityGrams: null,
      gainRelative: null,
    },
  ];
  for (const instrument of instruments)
    must(await trial.do('register-instrument', instrument, 'chief'));
  async function move(
    changes: Parameters<typeof trialMove>[0],
    instrument?: string,
  ): Promise<void> {
    const by = instrument === undefined ? {} : { instrument };
    must(await trial.do('trial-move-pieces', { moves: [trialMove(changes)], ...by }, 'custodian'));
  }
  return Object.assign(trial, { move });
}

/** A line of a tally of the trial piece; the mass is in grams as the balance shows it. */
export function found(pieces: number, grams: string | null, instrument: string | null = 'B-IN') {
  return {
    pieceStandard: 'trial-piece',
    pieces,
    gross: grams === null ? null : { text: grams, unit: 'g', typed: false },
    instrument: grams === null ? null : instrument,
  };
}

/** The names of the refusals of a command, or that it was recorded. */
export const refusalOf = (outcome: Outcome): string | readonly string[] =>
  outcome.outcome === 'refused' ? outcome.refusals.map((one) => one.refusal) : outcome.outcome;

/** The body of the one entry that a command must have recorded. */
export const bodyOf = <Body>(outcome: Outcome): Body => {
  if (outcome.outcome === 'refused') throw new RangeError(JSON.stringify(outcome.refusals));
  return outcome.entries[0]?.body as unknown as Body;
};

/** The shift in which a trial begins. */
export const shift = '2026-03-02-early';

export type AccountTrial = Awaited<ReturnType<typeof accountTrial>>;

/** A plant with 100 pieces of 31.103 g, that is 3 110.3 g, in receiving. */
export async function withPieces(): Promise<AccountTrial> {
  const trial = await accountTrial();
  await trial.move({});
  return trial;
}

/** Tallies a place. */
export const tally = (
  trial: AccountTrial,
  place: string,
  lines: readonly object[],
  author = 'custodian',
): Promise<Outcome> => trial.do('tally-place', { place, lines }, author);

/** Closes a shift, before a witness. */
export const close = (trial: AccountTrial, name = shift): Promise<Outcome> =>
  trial.do('close-shift', { shift: name }, 'accountant', 'custodian');

/** Signs for one missing piece, or for what the changes say. */
export const sign = (trial: AccountTrial, changes: object = {}): Promise<Outcome> =>
  trial.do(
    'sign-difference',
    {
      place: 'receiving',
      pieceStandard: 'trial-piece',
      melt: 'M-1',
      direction: 'missing',
      pieces: 1,
      gross: null,
      explanation: 'Searched the bench and the floor; nothing found.',
      ...changes,
    },
    'chief',
    'custodian',
  );
