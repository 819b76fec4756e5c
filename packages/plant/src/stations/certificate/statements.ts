import type { CertificateStatement, CertifiedMelt } from './content.ts';
import { printedProbability } from './printed-figures.ts';

type Decision = Pick<CertifiedMelt['decision'], 'guardFactor' | 'requiredConformanceProbability'>;

/** By what a melt passes: the required probability, or the guard factor of an older result. */
function ruleWords({ guardFactor, requiredConformanceProbability: required }: Decision): string {
  if (required === undefined) {
    return `A melt passes when the fineness found is at or above its acceptance limit: least fineness + ${guardFactor} × standard uncertainty.`;
  }
  return `A melt passes when the probability of conformity is at least ${printedProbability(required)}, fails when it is at most ${printedProbability(1 - required)}, and is undecided between. Its acceptance limit is the least fineness and a guard band, which is wider where fewer degrees of freedom stand behind the uncertainty.`;
}

/**
 * What clause 7.8 of ISO/IEC 17025:2017 asks a report to say beside its results, each with the
 * clause it answers. The letters of the clauses are from memory; hold them against the standard
 * before a certificate leaves under an accreditation.
 */
export function certificateStatements(facts: {
  readonly metal: 'gold' | 'silver';
  readonly methods: readonly string[];
  readonly decisions: readonly Decision[];
}): CertificateStatement[] {
  return [
    {
      clause: '7.8.6',
      title: 'Decision rule',
      text: `${[...new Set(facts.decisions.map(ruleWords))].join(' ')} Each melt is judged by itself, never by the mean of several, and only melts that pass are struck. The risk stated is the probability that the true fineness of the melt is below the least fineness, given the result, its uncertainty and their degrees of freedom, for a normal distribution or Student’s t and no earlier knowledge (JCGM 106:2012).`,
    },
    {
      clause: '7.8.3.1 c',
      title: 'Uncertainty',
      text: 'U is the expanded uncertainty, the standard uncertainty multiplied by the coverage factor k = 2, which for a normal distribution covers about 95 %, and less where the degrees of freedom are few; the guard band takes account of them. It contains weighing, proofs or calibration, repeatability and the difference between blanks of one melt.',
    },
    {
      clause: '7.8.2.1 f',
      title: 'Methods',
      text: `${facts.methods.map((method) => `${methodDescription(method, facts.metal)}.`).join(' ')} Counts by weight: probability of the count given every weighing of the tube, with a term for weighings that were wrong.`,
    },
    {
      clause: '7.8.5',
      title: 'Sampling',
      text: 'Blanks for assay and for the physical checks were drawn from the drums by a stream of numbers whose seed is the hash of the journal entry that settled the consignment; nobody could choose them, and anybody can repeat the draw.',
    },
    {
      clause: '7.8.2.1 l',
      title: 'Scope',
      text: 'Fineness is that of the blanks sampled from each melt and is stated for the melt. Masses and counts are those of the tubes and boxes named.',
    },
    {
      clause: '7.8.2.1 m',
      title: 'Masses',
      text: `Masses are balance readings, that is conventional mass. Fine ${facts.metal} is gross mass × declared fineness, computed exactly and rounded once, half to even, to the microgram. Printed figures are rounded; the record holds them whole. 1 troy ounce is 31.1034768 g.`,
    },
    {
      clause: '7.8.2.1 n',
      title: 'Deviations',
      text: 'None from the methods named, unless stated with a melt. Determinations that were set aside stand in the record with the reason.',
    },
    {
      clause: '7.8.2.1',
      title: 'Use',
      text: 'This certificate is not to be reproduced except in full. It claims no accreditation. It answers for the boxes as sealed; a broken or different seal ends it for that box.',
    },
  ];
}

/** A method as a certificate names it. */
export function methodDescription(method: string, metal: 'gold' | 'silver'): string {
  if (method === 'cupellation') return 'Gold by cupellation with proofs, after ISO\u00a011426';
  if (method === 'titration') {
    return 'Silver by potentiometric titration with a halide, after ISO\u00a011427 and ISO\u00a013756';
  }
  const standard = metal === 'gold' ? 'ISO\u00a015093' : 'ISO\u00a015096';
  return `Fineness by difference from the impurities found by spectrometry, after ${standard}`;
}
