import type { Trial } from '../../journal/trial.ts';
import type { Instrument } from './instruments.ts';
import type { PieceStandard } from './piece-standard.ts';

/** An invented gold piece for tests; its masses and deviations are assumptions. */
export const goldPiece: PieceStandard = {
  pieceStandard: 'GOLD-10',
  title: 'Gold piece of ten grams',
  metal: 'gold',
  finenessDeclaredPartsPerMillion: 999_900,
  finenessLimitPerMille: 999.9,
  massDeclaredMilligrams: 10_000,
  massLeastMilligrams: 10_000,
  massGreatestMilligrams: 10_060,
  diameterLeastMillimetres: 26.9,
  diameterGreatestMillimetres: 27.1,
  thicknessLeastMillimetres: 0.95,
  thicknessGreatestMillimetres: 1.05,
  pieceStandardDeviationMilligrams: 10,
  lotStandardDeviationMilligrams: 3,
  referencePieces: 100,
  piecesPerTube: 20,
  tubesPerBox: 25,
  tubeTareGrams: 12,
  tubeTareStandardDeviationGrams: 0.05,
  boxTareGrams: 400,
  boxTareStandardDeviationGrams: 1,
  assayMethod: 'fineness-by-difference',
  blanksForAssayPerMelt: 2,
  inspectionLevel: 'II',
  acceptanceQualityLimitPercent: 0.65,
  guardFactor: 2,
  requiredConformanceProbability: 0.95,
  duplicateLimitPerMille: 0.1,
  priorMiscountProbability: 0.0002,
  badWeighingProbability: 0.001,
  badWeighingSpreadGrams: 20,
};

/** An invented balance in receiving. */
export const drumBalance: Instrument = {
  instrument: 'BALANCE-1',
  title: 'Drum balance',
  kind: 'balance',
  place: 'receiving',
  divisionGrams: 0.1,
  repeatabilityGrams: 0.1,
  gainRelative: 0.00002,
  calibrationDue: '2026-12-31',
};

/** Registers a supplier, the gold piece and the balance in a plant on trial. */
export async function registerForTrial(trial: Trial): Promise<void> {
  const supplier = { supplier: 'NORTH', name: 'North Smelter', approvedUntil: '2026-12-31' };
  await mustRecord(trial, 'register-supplier', supplier);
  await mustRecord(trial, 'register-piece-standard', goldPiece);
  await mustRecord(trial, 'register-instrument', drumBalance);
}

async function mustRecord(trial: Trial, command: string, input: unknown): Promise<void> {
  const outcome = await trial.do(command, input, 'chief');
  if (outcome.outcome === 'recorded') return;
  throw new Error(`${command}: ${outcome.refusals.map(({ message }) => message).join(' ')}`);
}
