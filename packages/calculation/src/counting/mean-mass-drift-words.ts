import { probabilityPercentText } from '../quantity/probability-text.ts';
import type { Cause, MeanMassDriftOutput } from './mean-mass-drift-schema.ts';

const percent = (probability: number): string => probabilityPercentText(probability);

/** What happened, in one sentence, with what to do. */
export function driftWords(output: Omit<MeanMassDriftOutput, 'words'>): string {
  const found = output.probabilities.find(({ cause }) => cause === output.mostProbable);
  const sure = `(probability ${percent(found?.probability ?? 0)})`;
  const odd = (pick: (tube: MeanMassDriftOutput['tubes'][number]) => number): string =>
    output.tubes
      .filter((tube) => pick(tube) >= 0.5)
      .slice(0, 8)
      .map((tube) => tube.label)
      .join(', ') || 'none above one half';
  const { step, drift, countShift } = output;
  const sentences: Record<Cause, string> = {
    steady: `Nothing changed: mean piece mass and counts are steady ${sure}.`,
    'mean-step': `The mean piece mass stepped by ${step.sizeGrams.toPrecision(2)} g at tube ${step.fromLabel} ${sure}: the counts are right; renew the reference mean from there.`,
    'mean-drift': `The mean piece mass drifts by ${drift.perTubeGrams.toPrecision(2)} g per tube ${sure}: the counts are right; look for wear, and renew the reference mean.`,
    'wrong-counts': `Single tubes hold a wrong count ${sure}: ${odd((tube) => tube.probabilityMiscounted)}. Weigh them again, then open them with a witness.`,
    'count-shift': `From tube ${countShift.fromLabel} on every tube holds ${countShift.pieces > 0 ? 'one piece more' : 'one piece less'} ${sure}: stop the filling and open one of them.`,
    'bad-weighings': `Single weighings were bad ${sure}: ${odd((tube) => tube.probabilityBadWeighing)}. Set to zero and weigh again.`,
  };
  return sentences[output.mostProbable];
}
