import { type Chart, defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import {
  type Decimal,
  decimalOfNumber,
  numberOfDecimal,
  subtractDecimals,
  sumDecimals,
} from '../quantity/decimal.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { alarmProbability, smallestLossFound } from './alarm.ts';
import {
  type BalanceSource,
  requireReferences,
  signedMass,
  type WeightedStratum,
  weighingSources,
} from './balance-contributions.ts';
import { fineSources, fineStrata } from './fine-balance.ts';
import {
  type BalanceState,
  type MetalBalanceInput,
  type MetalBalanceOutput,
  metalBalanceInputSchema,
  metalBalanceOutputSchema,
} from './metal-balance-schema.ts';

export * from './alarm.ts';
export { type FineLot, fineMetal } from './fine-balance.ts';
export {
  type MetalBalanceInput,
  type MetalBalanceOutput,
  metalBalanceInputSchema,
  metalBalanceOutputSchema,
} from './metal-balance-schema.ts';
export * from './piece-nodes.ts';

type ExpectedLoss = MetalBalanceInput['expectedLoss'];

/** Difference of one ledger with its uncertainty, judged. */
interface LedgerBalance {
  readonly difference: number;
  readonly unexplained: number;
  readonly standardUncertaintyGrams: number;
  readonly contributions: MetalBalanceOutput['contributions'];
  readonly significance: number | null;
  readonly state: BalanceState;
}

function stateOf(
  unexplained: number,
  standardUncertainty: number,
  input: MetalBalanceInput,
): BalanceState {
  if (Math.abs(unexplained) > input.actFactor * standardUncertainty) return 'act';
  return Math.abs(unexplained) > input.warnFactor * standardUncertainty ? 'warn' : 'inside';
}

/** Balance of one ledger: difference exact, uncertainty from its sources, split over them. */
function balanceLedger(
  input: MetalBalanceInput,
  strata: readonly WeightedStratum[],
  weighingAndAssay: readonly BalanceSource[],
  expectedLoss: ExpectedLoss,
): LedgerBalance {
  const difference = sumDecimals(strata.map(signedMass));
  const expected: Decimal = decimalOfNumber(expectedLoss?.massGrams ?? 0);
  const unexplained = numberOfDecimal(subtractDecimals(difference, expected));
  const lossSource: BalanceSource[] =
    expectedLoss === undefined
      ? []
      : [
          {
            source: 'expected loss',
            lever: -1,
            leverUnit: '1',
            standardUncertaintyGrams: expectedLoss.standardUncertaintyGrams,
          },
        ];
  const sources = [...weighingAndAssay, ...lossSource];
  const variance = compensatedSum(sources.map((one) => one.standardUncertaintyGrams ** 2));
  const standardUncertaintyGrams = Math.sqrt(variance);
  return {
    difference: numberOfDecimal(difference),
    unexplained,
    standardUncertaintyGrams,
    contributions: sources.map((one) => {
      const share = variance === 0 ? 0 : one.standardUncertaintyGrams ** 2 / variance;
      return { ...one, sharePercent: 100 * share, expectedPartGrams: unexplained * share };
    }),
    significance: variance === 0 ? null : unexplained / standardUncertaintyGrams,
    state: stateOf(unexplained, standardUncertaintyGrams, input),
  };
}

function pieceDifference(pieces: MetalBalanceInput['pieces']): number | null {
  if (pieces === undefined) return null;
  return pieces.opening + pieces.received - pieces.sent - pieces.closing;
}

/** Whether half a piece stands clear of the action limit, and how surely one piece is found. */
function onePiece(input: MetalBalanceInput, standardUncertaintyGrams: number) {
  const { pieceMassGrams, actFactor } = input;
  if (pieceMassGrams === undefined) {
    return { canSeeOnePiece: null, onePieceAlarmProbability: null };
  }
  const onePieceAlarmProbability =
    standardUncertaintyGrams === 0
      ? 1
      : alarmProbability({
          lossGrams: pieceMassGrams,
          standardUncertaintyGrams,
          factor: actFactor,
          sides: 'one',
        });
  return {
    canSeeOnePiece: actFactor * standardUncertaintyGrams <= pieceMassGrams / 2,
    onePieceAlarmProbability,
  };
}

function balanceWords(output: Omit<MetalBalanceOutput, 'words'>): string {
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const missing = (value: number) =>
    value === 0 ? 'difference' : value < 0 ? 'too much' : 'missing';
  const pieces = output.differencePieces;
  const pieceWords = {
    none: '',
    closed: 'The pieces close. ',
    open: `The pieces do not close: ${Math.abs(pieces ?? 0)} ${missing(pieces ?? 0)}. `,
  }[pieces === null ? 'none' : pieces === 0 ? 'closed' : 'open'];
  const { unexplainedGrossGrams, significance } = output;
  const ratio = significance === null ? '' : `, ${print(Math.abs(significance), 2)} times it`;
  const gross = `Gross ${print(Math.abs(unexplainedGrossGrams), 3)} g ${missing(unexplainedGrossGrams)} with standard uncertainty ${print(output.standardUncertaintyGrams, 3)} g${ratio}: ${output.state}.`;
  const largest = output.contributions.reduce((most, one) =>
    one.sharePercent > most.sharePercent ? one : most,
  );
  const share = ` Largest share: ${largest.source}, ${print(largest.sharePercent, 1)} %.`;
  const blind =
    output.canSeeOnePiece === false
      ? ' The gram ledger cannot see one piece of this product here.'
      : '';
  const fine =
    output.fine === null
      ? ''
      : ` Fine ${print(Math.abs(output.fine.unexplainedFineGrams), 3)} g ${missing(output.fine.unexplainedFineGrams)} with standard uncertainty ${print(output.fine.standardUncertaintyGrams, 3)} g: ${output.fine.state}.`;
  return `${pieceWords}${gross}${share}${blind}${fine}`;
}

function fineLedger(input: MetalBalanceInput): MetalBalanceOutput['fine'] {
  const strata = fineStrata(input);
  if (strata === null) return null;
  const ledger = balanceLedger(input, strata, fineSources(input, strata), input.expectedFineLoss);
  return {
    differenceFineGrams: ledger.difference,
    unexplainedFineGrams: ledger.unexplained,
    standardUncertaintyGrams: ledger.standardUncertaintyGrams,
    contributions: ledger.contributions,
    significance: ledger.significance,
    state: ledger.state,
  };
}

/**
 * Metal balance of one place over one shift: what is missing in pieces, gross and fine, with the
 * standard uncertainty of the difference and what each source of error contributes to it.
 *
 * Formula: difference = opening + additions − removals − closing, positive is missing. Variance =
 * Σ readings·(random)² + Σ (lever·uncertainty)² over the shared errors: calibration of a scale
 * (lever: signed mass on it), tare of a group and zero of a zeroing (lever: signed readings); in
 * the fine ledger each is weighted by fineness, and the assay of a lot and the bias of an assay
 * method are added (lever: signed gross mass). The expected process loss is subtracted with its own
 * uncertainty. Warn and act when |difference| exceeds the factor × standard uncertainty. Expected
 * part of a source: difference × its share of the variance. Smallest loss found:
 * (z(0.95) + z(0.95))·u.
 *
 * @param input strata with sign 1 (in, opening) or −1 (out, closing), net mass in g from 0,
 *   readings from 1, all at most 1e12; each scale, tare group, zeroing, lot and assay method that is named must be
 *   listed once; relative calibration uncertainties; lots for every stratum or for none
 * @returns pieces as whole numbers, masses in g, shares in %, nothing rounded but the words
 * @throws DomainError for a name that is not listed or stands twice, or a stratum without its lot
 * Validity: errors normal, independent between sources, small against the masses; rounding counts as
 * random only where the noise is at least half a division. Differences are exact decimals.
 * laws/metal-balance.test.ts holds the uncertainty against simulation. See reference/material-balance.
 * Source: T. Burr et al. (2016), EPJ Nuclear Sciences and Technologies 2, 36 (balance and its
 * variance); 10 CFR 74.53(b)(2) (3 standard deviations); JCGM 100:2008, 5.2.2 (shared errors)
 * @example metalBalance({ strata: [
 *     { label: 'in', sign: 1, count: 4, massGrams: 1000, scale: 'A', randomStandardDeviationGrams: 0.5 },
 *     { label: 'out', sign: -1, count: 1, massGrams: 3990, scale: 'A', randomStandardDeviationGrams: 0 }],
 *   scales: [{ scale: 'A', gainRelativeStandardUncertainty: 0.0001 }], warnFactor: 2, actFactor: 3,
 * }).differenceGrossGrams // 10
 */
export function metalBalance(input: MetalBalanceInput): MetalBalanceOutput {
  requireReferences(input);
  const strata = input.strata.map((stratum) => ({
    stratum,
    weight: { coefficient: 1n, places: 0 },
  }));
  const gross = balanceLedger(input, strata, weighingSources(input, strata), input.expectedLoss);
  const { standardUncertaintyGrams } = gross;
  const output = {
    differencePieces: pieceDifference(input.pieces),
    differenceGrossGrams: gross.difference,
    unexplainedGrossGrams: gross.unexplained,
    standardUncertaintyGrams,
    contributions: gross.contributions,
    significance: gross.significance,
    state: gross.state,
    warnLimitGrams: input.warnFactor * standardUncertaintyGrams,
    actLimitGrams: input.actFactor * standardUncertaintyGrams,
    smallestLossFoundGrams: smallestLossFound({
      standardUncertaintyGrams,
      falseAlarmProbability: 0.05,
      missProbability: 0.05,
      sides: 'one',
    }),
    ...onePiece(input, standardUncertaintyGrams),
    fine: fineLedger(input),
  };
  return { ...output, words: balanceWords(output) };
}

function drawBalance(_input: MetalBalanceInput, output: MetalBalanceOutput): (Chart | LimitRule)[] {
  const shares: Chart = {
    kind: 'chart',
    title: 'Shares of the variance of the difference',
    xTitle: 'Source',
    yTitle: 'Share, %',
    series: output.contributions.map((line, index) => ({
      label: line.source,
      kind: 'bars',
      x: [index + 1],
      y: [line.sharePercent],
    })),
  };
  const rule: LimitRule = {
    kind: 'limit-rule',
    title: 'Gross difference against the action limits, positive is missing',
    unit: 'g',
    value: output.unexplainedGrossGrams,
    lowerLimit: -output.actLimitGrams,
    upperLimit: output.actLimitGrams,
    guardBand: Math.max(0, output.actLimitGrams - output.warnLimitGrams),
    words: output.words,
  };
  return [rule, shares];
}

const reading = (
  label: string,
  sign: 1 | -1,
  count: number,
  massGrams: number,
  scale: string,
  randomStandardDeviationGrams: number,
) => ({ label, sign, count, massGrams, scale, randomStandardDeviationGrams });

export const metalBalanceCalculation = defineCalculation<MetalBalanceInput, MetalBalanceOutput>({
  id: 'metal-balance',
  version: 1,
  topic: 'account',
  title: 'Metal balance of a shift',
  purpose:
    'Finds what is missing in pieces, gross and fine over one shift at one place, whether it is more than weighing can explain, and which scale or tare explains most.',
  source:
    'T. Burr et al. (2016), EPJ Nuclear Sciences and Technologies 2, 36; 10 CFR 74.53(b)(2); JCGM 100:2008, 5.2.2',
  input: metalBalanceInputSchema,
  output: metalBalanceOutputSchema,
  // A silver line with receiving and packing on two scales, reference/material-balance: u = 9.115 g.
  example: {
    strata: [
      reading('opening', 1, 3, 40_000, 'V', 0.5),
      { ...reading('bins received', 1, 8, 15_550, 'R', 0.3), tareGroup: 'bin' },
      reading('boxes packed', -1, 7, 15_555, 'P', 0.4),
      reading('scrap', -1, 1, 1240, 'P', 0.4),
      reading('laboratory', -1, 1, 62.2, 'L', 0.001),
      reading('closing', -1, 4, 33_553.2, 'V', 0.5),
    ],
    scales: [
      { scale: 'V', gainRelativeStandardUncertainty: 2e-5 },
      { scale: 'R', gainRelativeStandardUncertainty: 5e-5 },
      { scale: 'P', gainRelativeStandardUncertainty: 5e-5 },
      { scale: 'L', gainRelativeStandardUncertainty: 1e-5 },
    ],
    tareGroups: [{ tareGroup: 'bin', standardDeviationGrams: 0.4 }],
    pieceMassGrams: 31.1,
    warnFactor: 2,
    actFactor: 3,
  },
  compute: metalBalance,
  draw: drawBalance,
});
