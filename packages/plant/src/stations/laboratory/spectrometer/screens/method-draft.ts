import { decimalOf } from '../../../../workbench/number-text.ts';
import { limitsIn, standardsIn, textOfLimits, textOfStandards } from '../method-text.ts';
import type { ResultMethod } from '../result-bodies.ts';

/** What is known of a method, as it is typed. */
export interface MethodDraft {
  readonly calibration: string;
  readonly drift: string;
  readonly limits: string;
  readonly standards: string;
}

/** Five percent of drift over one bracket is common practice. */
export const emptyMethod: MethodDraft = { calibration: '', drift: '5', limits: '', standards: '' };

export const draftOf = (method: ResultMethod): MethodDraft => ({
  calibration: String(method.calibrationRelativeUncertaintyPercent),
  drift: String(method.driftLimitPercent),
  limits: textOfLimits(method),
  standards: textOfStandards(method),
});

/** The method as it is typed, or what is not right in it. */
export function methodOf(
  draft: MethodDraft,
): { readonly method: ResultMethod } | { readonly problem: string } {
  const calibration = decimalOf(draft.calibration);
  const drift = decimalOf(draft.drift);
  if (typeof calibration !== 'number') return { problem: 'State the calibration uncertainty' };
  if (typeof drift !== 'number') return { problem: 'State the drift limit' };
  const limits = limitsIn(draft.limits);
  if ('problem' in limits) return limits;
  const standards = standardsIn(draft.standards);
  if ('problem' in standards) return standards;
  return {
    method: {
      calibrationRelativeUncertaintyPercent: calibration,
      driftLimitPercent: drift,
      ...limits,
      ...standards,
    },
  };
}
