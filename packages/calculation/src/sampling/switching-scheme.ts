import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { percentAtAcceptance, qualityOfPercent } from './plan-curve.ts';
import { planOutcome } from './plan-outcome.ts';
import { type SamplingPlan, samplingPlanInput, stagesOf } from './sampling-plan.ts';

const quality = 'a number from 0 to 100000';
const bases = ['binomial', 'poisson'] as const;

export const switchingSchemeInput = z.strictObject({
  normal: samplingPlanInput.meta({ title: 'Plan of normal inspection' }),
  tightened: samplingPlanInput.meta({ title: 'Plan of tightened inspection' }),
  basis: z.enum(bases, `one of ${bases.join(', ')}`).meta({
    title: 'Distribution',
    description: 'Binomial for nonconforming pieces, Poisson for nonconformities',
  }),
  qualitiesPercent: z
    .array(
      z.number(quality).min(0, quality).max(100_000, quality).meta({
        title: 'Quality',
        description: 'Percent nonconforming, or nonconformities per hundred pieces (Poisson)',
        unit: '%',
      }),
      'a list of qualities',
    )
    .min(1, 'at least one quality')
    .max(200, 'at most 200 qualities')
    .meta({ title: 'Qualities', description: 'Each as if production stayed at it for long' }),
});

export type SwitchingSchemeInput = z.infer<typeof switchingSchemeInput>;

const probability = (title: string) => z.number().meta({ title });
const lots = (title: string, description: string) =>
  z.number().nullable().meta({ title, description, unit: 'lots' });

export const switchingSchemeOutput = z.strictObject({
  points: z
    .array(
      z.strictObject({
        qualityPercent: z.number().meta({ title: 'Quality', unit: '%' }),
        acceptedUnderNormal: probability('Probability of acceptance under normal inspection'),
        acceptedUnderTightened: probability('Probability of acceptance under tightened inspection'),
        acceptanceProbability: probability('Share of lots accepted in the long run'),
        tightenedShare: probability('Share of lots under tightened inspection'),
        normalLots: lots('Mean lots on normal inspection', 'Nothing where it never ends'),
        tightenedLots: lots('Mean lots on tightened inspection', 'Nothing where it never ends'),
        discontinuedShare: probability('Chance that tightened inspection ends the series'),
        averageSamplePieces: z.number().meta({ title: 'Average sample number', unit: 'pieces' }),
      }),
    )
    .meta({ title: 'Figures at the qualities' }),
  words: z.string().meta({ title: 'In words' }),
});

export type SwitchingSchemeOutput = z.infer<typeof switchingSchemeOutput>;

/** Mean lots of one stay on normal inspection: until two of five consecutive lots are rejected. */
function meanNormalLots(accepted: number): number {
  const rejected = 1 - accepted;
  const powers = 1 + accepted + accepted ** 2 + accepted ** 3;
  return (2 - accepted ** 4) / (rejected ** 2 * powers);
}

/** Mean lots of one stay on tightened inspection: until five in a row are accepted. */
function meanTightenedLots(accepted: number): number {
  const powers = 1 + accepted + accepted ** 2 + accepted ** 3 + accepted ** 4;
  return powers / accepted ** 5;
}

type Point = SwitchingSchemeOutput['points'][number];

function pointAt(
  plans: { readonly normal: SamplingPlan; readonly tightened: SamplingPlan },
  basis: SwitchingSchemeInput['basis'],
  percent: number,
): Point {
  const quality = qualityOfPercent(basis, percent, 1);
  const normal = planOutcome(plans.normal, quality);
  const tightened = planOutcome(plans.tightened, quality);
  const [a, b] = [meanNormalLots(normal.accepted), meanTightenedLots(tightened.accepted)];
  // A series that never leaves normal inspection has no tightened lots; one that never returns, only such.
  const share = Number.isFinite(a) ? 1 / (1 + a / b) : 0;
  const mixed = (onNormal: number, onTightened: number) =>
    onNormal * (1 - share) + onTightened * share;
  return {
    qualityPercent: percent,
    acceptedUnderNormal: normal.accepted,
    acceptedUnderTightened: tightened.accepted,
    acceptanceProbability: mixed(normal.accepted, tightened.accepted),
    tightenedShare: share,
    normalLots: Number.isFinite(a) ? a : null,
    tightenedLots: Number.isFinite(b) ? b : null,
    discontinuedShare: (1 - tightened.accepted ** 5) ** 5,
    averageSamplePieces: mixed(normal.averageSamplePieces, tightened.averageSamplePieces),
  };
}

/**
 * What switching between normal and tightened inspection does in the long run: the share of lots that
 * is accepted when production stays at one quality, and how long each kind of inspection lasts. It shows
 * that the normal plan alone protects less than the rules as a whole.
 *
 * Formula: Pa = (a·Pₙ + b·Pₜ)/(a + b), with a = (2 − Pₙ⁴)/((1 − Pₙ)(1 − Pₙ⁴)) mean lots on normal
 * inspection until two of five consecutive lots are rejected, b = (1 − Pₜ⁵)/((1 − Pₜ)·Pₜ⁵) mean lots on
 * tightened inspection until five in a row are accepted. Tightened inspection ends with its fifth
 * rejected lot with probability (1 − Pₜ⁵)⁵; the series is then taken as resumed at once.
 *
 * @param input both plans, single or double; one to 200 qualities in percent or per hundred pieces
 * @returns shares and means at each quality in the order given, not rounded; no mean where a stay
 * never ends
 * @throws DomainError for numbers of a plan that contradict each other, or a percentage above 100
 * Validity: steady production, lots independent; reduced inspection left out, which accepts more.
 * Published points in reference/operating-characteristics; laws/sampling-scheme follows the switching
 * rules themselves.
 * Source: K. S. Stephens and K. E. Larson (1967), An evaluation of the MIL-STD-105D system of sampling
 * plans, Industrial Quality Control 23(7), as applied to MIL-STD-105E, 4.7
 * @example switchingScheme({ basis: 'binomial', qualitiesPercent: [1.9296],
 *   normal: { kind: 'single', sampleSizePieces: 200, acceptanceNumber: 7 },
 *   tightened: { kind: 'single', sampleSizePieces: 200, acceptanceNumber: 5 },
 * }).points[0].acceptanceProbability // 0.9505
 */
export function switchingScheme(input: SwitchingSchemeInput): SwitchingSchemeOutput {
  for (const [index, percent] of input.qualitiesPercent.entries()) {
    requireDomain(input.basis === 'poisson' || percent <= 100, {
      field: `qualitiesPercent.${index}`,
      value: percent,
      accepted: 'a percentage from 0 to 100; more than that for the Poisson distribution only',
    });
  }
  const plans = plansOf(input);
  const points = input.qualitiesPercent.map((percent) => pointAt(plans, input.basis, percent));
  return { points, words: points.slice(0, 3).map(wordsOf).join(' ') };
}

/** The stages of both plans; a contradiction is named under the plan in which it stands. */
function plansOf(input: SwitchingSchemeInput) {
  return {
    normal: stagesOf(input.normal, 'normal'),
    tightened: stagesOf(input.tightened, 'tightened'),
  };
}

function wordsOf(point: Point): string {
  const percent = (value: number) => roundNumberText(100 * value, 1, 'half-even');
  const lasts =
    point.normalLots === null
      ? 'normal inspection never ends'
      : `normal inspection lasts ${roundNumberText(point.normalLots, 1, 'half-even')} lots in the mean`;
  return `At ${point.qualityPercent} %, ${percent(point.acceptanceProbability)} % of the lots are accepted in the long run (${percent(point.acceptedUnderNormal)} % under normal, ${percent(point.acceptedUnderTightened)} % under tightened inspection); ${lasts}.`;
}

/** Points of the drawn curves. */
const curvePoints = 80;

function drawScheme(input: SwitchingSchemeInput): Chart[] {
  const plans = plansOf(input);
  const reach = percentAtAcceptance(plans.normal, 0.01, input.basis, 1) ?? 100;
  const points = Array.from({ length: curvePoints + 1 }, (_, index) =>
    pointAt(plans, input.basis, (reach * index) / curvePoints),
  );
  const x = points.map(({ qualityPercent }) => qualityPercent);
  const line = (label: string, figure: (point: Point) => number) => ({
    label,
    kind: 'line' as const,
    x,
    y: points.map(figure),
  });
  const xTitle =
    input.basis === 'poisson' ? 'Nonconformities per hundred pieces' : 'Nonconforming, %';
  return [
    {
      kind: 'chart',
      title: 'Operating characteristic of the scheme',
      xTitle,
      yTitle: 'Share of lots accepted',
      series: [
        line('normal', (point) => point.acceptedUnderNormal),
        line('tightened', (point) => point.acceptedUnderTightened),
        line('scheme', (point) => point.acceptanceProbability),
      ],
    },
    {
      kind: 'chart',
      title: 'Lots under tightened inspection',
      xTitle,
      yTitle: 'Share of lots',
      series: [line('tightened', (point) => point.tightenedShare)],
    },
  ];
}

export const switchingSchemeCalculation = defineCalculation({
  id: 'switching-scheme',
  version: 1,
  topic: 'sampling',
  title: 'Switching in the long run',
  purpose:
    'What normal and tightened inspection with their switching rules do together: the share of lots accepted when a supplier stays at one quality, and how long each inspection lasts.',
  source:
    'K. S. Stephens and K. E. Larson (1967), Industrial Quality Control 23(7); MIL-STD-105E (1989), 4.7',
  input: switchingSchemeInput,
  output: switchingSchemeOutput,
  // Letter L at 1.5; published: 0.95 at 1.9296 % and 0.10 at 4.5884 %.
  example: {
    normal: { kind: 'single', sampleSizePieces: 200, acceptanceNumber: 7 },
    tightened: { kind: 'single', sampleSizePieces: 200, acceptanceNumber: 5 },
    basis: 'binomial',
    qualitiesPercent: [1.5, 1.9296, 4.5884],
  },
  compute: switchingScheme,
  draw: drawScheme,
});
