import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { significantText } from '../uncertainty/figures.ts';
import {
  type DecisionRisksInput,
  type DecisionRisksOutput,
  decisionRisksInput,
  decisionRisksOutput,
} from './decision-risks-schema.ts';
import { limitWords, movedLimits, requireLimits } from './limits-schema.ts';
import { itemConformance, processRisk } from './process-risk.ts';

export {
  type DecisionRisksInput,
  type DecisionRisksOutput,
  decisionRisksInput,
  decisionRisksOutput,
} from './decision-risks-schema.ts';

/** Refuses a guard band that leaves nothing between two limits. */
function requireAcceptance(limits: ReturnType<typeof requireLimits>, guardBand: number): void {
  const { lower, upper } = limits;
  requireDomain(lower === null || upper === null || lower + guardBand < upper - guardBand, {
    field: 'guardBand',
    value: guardBand,
    accepted: 'a guard band below half the distance of the limits',
  });
}

function itemRisks(input: DecisionRisksInput, limits: ReturnType<typeof requireLimits>) {
  const none = { itemConformanceProbability: null, itemAccepted: null, itemRisk: null };
  const value = input.measuredValue;
  if (value === null) return none;
  const conformance = itemConformance(
    input.process,
    value,
    input.measuringStandardUncertainty,
    movedLimits(limits, 0),
  );
  requireDomain(conformance !== null, {
    field: 'measuredValue',
    value,
    accepted: 'a value that the process can give with this measuring uncertainty',
  });
  const acceptance = movedLimits(limits, input.guardBand);
  const itemAccepted =
    value >= (acceptance.lower ?? Number.NEGATIVE_INFINITY) &&
    value <= (acceptance.upper ?? Number.POSITIVE_INFINITY);
  return {
    itemConformanceProbability: conformance,
    itemAccepted,
    itemRisk: itemAccepted ? 1 - conformance : conformance,
  };
}

function riskWords(
  input: DecisionRisksInput,
  output: Omit<DecisionRisksOutput, 'words'>,
  limits: ReturnType<typeof requireLimits>,
): string {
  const percent = (share: number) => `${significantText(100 * share, 3)} %`;
  const given =
    output.nonconformingShareOfAccepted === null
      ? 'Nothing is accepted.'
      : `Of what is accepted ${percent(output.nonconformingShareOfAccepted)} does not conform.`;
  const item =
    output.itemConformanceProbability === null || output.itemRisk === null
      ? ''
      : ` The item measured at ${input.measuredValue} ${input.unit} conforms with probability ${probabilityText(output.itemConformanceProbability, 4)}; it is ${output.itemAccepted ? 'accepted' : 'not accepted'}, which is wrong with probability ${probabilityText(output.itemRisk)}.`;
  return `Conforming is ${limitWords(limits, input.unit)}: ${percent(output.processConformance)} of the process. Of all items ${percent(output.consumerRisk)} are bad and accepted, ${percent(output.producerRisk)} are good and refused. ${given}${item}`;
}

/**
 * Risks of a decision rule over the whole production and for one item: how often bad metal is
 * accepted and good metal refused when the spread of the process is known.
 *
 * Formula: global consumer's risk P(outside the limits, measured inside the acceptance limits),
 * producer's risk P(inside, measured outside), over process and measuring error; shares of the
 * accepted and of the conforming by division. For one item the probability of conformity from
 * process and measured value together.
 *
 * @param input process normal or gamma; measuring standard uncertainty above 0; one or two limits;
 *   guard band, inwards above 0; measured value or null
 * @returns probabilities in [0, 1] and acceptance limits; nothing rounded but the words
 * @throws DomainError for no limit, limits in the wrong order, a guard band that leaves nothing
 *   between two limits, limits that enclose no part of a gamma process
 * Validity: measuring error normal, independent of the item; closed form for a normal process, else
 * quadrature. See reference/conformity and laws/conformity.
 * Source: JCGM 106:2012, 9.3 to 9.5
 * @example decisionRisks(decisionRisksCalculation.example).consumerRisk // 0.01894
 */
export function decisionRisks(input: DecisionRisksInput): DecisionRisksOutput {
  const limits = requireLimits(input);
  requireAcceptance(limits, input.guardBand);
  const acceptance = movedLimits(limits, input.guardBand);
  const risk = processRisk({
    process: input.process,
    measuringStandardUncertainty: input.measuringStandardUncertainty,
    limits: movedLimits(limits, 0),
    acceptance,
  });
  const share = (part: number, whole: number) => (whole > 0 ? Math.min(1, part / whole) : null);
  const output = {
    ...risk,
    nonconformingShareOfAccepted: share(risk.consumerRisk, risk.acceptedShare),
    refusedShareOfConforming: share(risk.producerRisk, risk.processConformance),
    acceptanceLower: acceptance.lower ?? null,
    acceptanceUpper: acceptance.upper ?? null,
    ...itemRisks(input, limits),
  };
  return { ...output, words: riskWords(input, output, limits) };
}

/** Guard bands of the curve, in standard uncertainties. */
const curveFrom = -1;
const curveTo = 3;
const curvePoints = 33;

function drawRisks(input: DecisionRisksInput): Chart[] {
  const limits = requireLimits(input);
  const u = input.measuringStandardUncertainty;
  const { lower, upper } = limits;
  const x = Array.from(
    { length: curvePoints },
    (_, index) => u * (curveFrom + ((curveTo - curveFrom) * index) / (curvePoints - 1)),
  ).filter((band) => lower === null || upper === null || lower + band < upper - band);
  const risks = x.map((guardBand) =>
    processRisk({
      process: input.process,
      measuringStandardUncertainty: u,
      limits: movedLimits(limits, 0),
      acceptance: movedLimits(limits, guardBand),
    }),
  );
  return [
    {
      kind: 'chart',
      title: 'Global risks against the guard band',
      xTitle: `Guard band, ${input.unit}`,
      yTitle: 'Share of all items',
      series: [
        { label: "consumer's", kind: 'line', x, y: risks.map((risk) => risk.consumerRisk) },
        { label: "producer's", kind: 'line', x, y: risks.map((risk) => risk.producerRisk) },
      ],
      marks: [{ x: input.guardBand, label: 'chosen' }],
    },
  ];
}

export const decisionRisksCalculation = defineCalculation<DecisionRisksInput, DecisionRisksOutput>({
  id: 'decision-risks',
  version: 1,
  topic: 'conformity',
  title: 'Risks of a decision rule',
  purpose:
    'How often, over the whole production, bad metal is accepted and good metal refused under a guard band, and the same for one measured item, when the spread of the process is known.',
  source: 'JCGM 106:2012, 9.3 to 9.5',
  input: decisionRisksInput,
  output: decisionRisksOutput,
  // Resistors as in JCGM 106:2012, 9.5; spreads chosen, risks computed in reference/conformity.
  example: {
    unit: 'Ω',
    process: { kind: 'normal', mean: 1500, standardDeviation: 0.12 },
    measuringStandardUncertainty: 0.04,
    lowerLimit: 1499.8,
    upperLimit: 1500.2,
    guardBand: 0,
    measuredValue: 1500.15,
  },
  compute: decisionRisks,
  draw: drawRisks,
});
