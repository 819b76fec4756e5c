import type { RunRule } from '@cupel/calculation';
import type { CupellationRecorded, Determination } from './bodies.ts';
import type { RunQuality } from './controls/bodies.ts';

/** What the laboratory keeps a control chart of. */
export type ChartSubject =
  | 'proof-correction'
  | 'proof-spread'
  | 'surcharge'
  | 'duplicate-range'
  | 'reference-material'
  | 'blank'
  | 'titrant-factor';

interface SubjectMeaning {
  readonly title: string;
  /** What one point is, and what a shift of it would tell. */
  readonly meaning: string;
  readonly quantity: string;
  /** Whether it is a range, which is never below 0 and has no lower limit worth drawing. */
  readonly isRange: boolean;
  readonly rules: readonly RunRule[];
}

/** Of a level: the zone tests, and the steady drift that a furnace or an acid shows. */
const levelRules: readonly RunRule[] = [
  'western-electric-1',
  'western-electric-2',
  'western-electric-3',
  'western-electric-4',
  'nelson-3',
];

/** Ranges are skew, so that tests which count sides of the centre line would cry wolf. */
const rangeRules: readonly RunRule[] = ['western-electric-1'];

export const meaningOfSubject: Readonly<Record<ChartSubject, SubjectMeaning>> = {
  'proof-correction': {
    title: 'Proof correction',
    meaning:
      'Mean loss of the proofs of one run, for each thousand of proof gold. A shift points to furnace, cupels, acid or proof gold.',
    quantity: 'Loss, ‰ of the proof gold',
    isRange: false,
    rules: levelRules,
  },
  'proof-spread': {
    title: 'Spread of the proofs',
    meaning:
      'Greatest less smallest loss of the proofs of one run, for each thousand of proof gold. A rise points to uneven heat or to weighing.',
    quantity: 'Spread, ‰ of the proof gold',
    isRange: true,
    rules: rangeRules,
  },
  surcharge: {
    title: 'Surcharge',
    meaning:
      'Net gain of the proof cornets of one run, referred to the mean portion. A shift points to parting: silver held back, or gold lost.',
    quantity: 'Surcharge, ‰',
    isRange: false,
    rules: levelRules,
  },
  'duplicate-range': {
    title: 'Range of duplicates',
    meaning:
      'How far two determinations of a melt lie apart that followed one another in one run. They come from different blanks, so that a rise may lie in the metal too.',
    quantity: 'Range, ‰',
    isRange: true,
    rules: rangeRules,
  },
  'reference-material': {
    title: 'Reference material',
    meaning:
      'What each run found of one quantity of a reference material. A shift points to calibration, proofs or dissolution; the material itself does not move.',
    quantity: 'Found',
    isRange: false,
    rules: levelRules,
  },
  blank: {
    title: 'Blank',
    meaning:
      'What each run found without metal. A rise points to dirty vessels, water or reagents.',
    quantity: 'Found',
    isRange: false,
    rules: levelRules,
  },
  'titrant-factor': {
    title: 'Titrant factor',
    meaning:
      'Silver for which a millilitre of the lot answers, each time it was determined. A drift points to evaporation, light or the burette.',
    quantity: 'Factor',
    isRange: false,
    rules: levelRules,
  },
};

/** Of what a chart is that does not belong to one kind of piece. */
export interface ChartedThing {
  /** Part of the name of the chart, such as `RM-1.fineness`. */
  readonly key: string;
  /** In words, such as `RM-1, fineness`. */
  readonly words: string;
  readonly unit: string;
}

/** The name of a chart: what it watches, and of what, or for which piece standard. */
export const chartName = (subject: ChartSubject, of: string): string => `${subject}.${of}`;

/** What a chart is called, and what its points are in. */
export function namesOfChart(chart: {
  readonly subject: ChartSubject;
  readonly of?: ChartedThing;
}): { readonly title: string; readonly quantity: string; readonly unit: string } {
  const { title, quantity } = meaningOfSubject[chart.subject];
  if (!chart.of) return { title, quantity, unit: '‰' };
  const { words, unit } = chart.of;
  return { title: `${title} ${words}`, quantity: `${quantity}, ${unit}`, unit };
}

/** One value of a run for one chart. */
export interface ChartValue {
  readonly subject: ChartSubject;
  readonly value: number;
  /** Labels of the determinations that it was made of; none where it is made of proofs. */
  readonly labels: readonly string[];
  /** Present where the chart is of a thing of its own, not of a kind of piece. */
  readonly of?: ChartedThing;
}

const mean = (values: readonly number[]): number =>
  values.reduce((total, one) => total + one, 0) / values.length;

/** What the proofs of a cupellation run give to the charts. */
export function valuesOfProofs(body: CupellationRecorded): readonly ChartValue[] {
  const { output, input } = body.cupellation;
  const proofs = input['proofs'] as unknown as readonly { readonly goldTakenMilligrams: number }[];
  const taken = mean(proofs.map((proof) => proof.goldTakenMilligrams));
  return [
    {
      subject: 'proof-correction',
      value: 1000 * (1 - Number(output['recoveryRatio'])),
      labels: [],
    },
    {
      subject: 'proof-spread',
      value: (1000 * Number(output['proofSpreadMilligrams'])) / taken,
      labels: [],
    },
    { subject: 'surcharge', value: Number(output['surchargePerMille']), labels: [] },
  ];
}

/** The ranges of determinations that followed one another: first and second, third and fourth. */
export function rangesOfDuplicates(
  determinations: readonly Pick<Determination, 'label' | 'finenessPerMille'>[],
): readonly ChartValue[] {
  return determinations.flatMap((second, index) => {
    const first = determinations[index - 1];
    if (index % 2 === 0 || !first) return [];
    return {
      subject: 'duplicate-range',
      value: Math.abs(second.finenessPerMille - first.finenessPerMille),
      labels: [first.label, second.label],
    };
  });
}

/** What the controls of a run give to the charts of reference materials, blanks and titrants. */
export function valuesOfControls(
  body: RunQuality & { readonly pieceStandard: string },
): readonly ChartValue[] {
  const references = (body.controls?.references ?? []).flatMap(
    ({ label, referenceMaterial, comparisons }) =>
      comparisons.map(({ quantity, unit, input }) => ({
        subject: 'reference-material' as const,
        value: input.found,
        labels: [label],
        of: {
          key: `${referenceMaterial}.${quantity}`,
          words: `${referenceMaterial}, ${quantity}`,
          unit,
        },
      })),
  );
  const method = body.method?.method ?? body.pieceStandard;
  const blanks = (body.controls?.blanks ?? []).map(({ label, quantity, unit, value }) => ({
    subject: 'blank' as const,
    value,
    labels: [label],
    of: { key: `${method}.${quantity}`, words: `of ${method}, ${quantity}`, unit },
  }));
  return [...references, ...blanks, ...valuesOfTitrant(body.titrantFactor)];
}

/** What a determination of a titrant's factor gives to its chart. */
export function valuesOfTitrant(titrant: RunQuality['titrantFactor']): readonly ChartValue[] {
  if (!titrant) return [];
  const { lot, factorMilligramsPerMillilitre: value } = titrant;
  return [
    { subject: 'titrant-factor', value, labels: [], of: { key: lot, words: lot, unit: 'mg/mL' } },
  ];
}
