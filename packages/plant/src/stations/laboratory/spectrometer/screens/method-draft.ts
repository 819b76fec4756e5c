import { decimalOf } from '../../../../workbench/number-text.ts';
import { isSignal } from '../content-unit.ts';
import { limitsIn, standardsIn, textOfLimits, textOfStandards } from '../method-text.ts';
import type { ResultMapping, ResultMethod } from '../result-bodies.ts';
import { usualSignals } from '../signals.ts';

/** What is known of a method, as it is typed. */
export interface MethodDraft {
  readonly calibration: string;
  readonly drift: string;
  readonly limits: string;
  readonly standards: string;
  /** Null where nobody has chosen how signals are taken. */
  readonly signals: ResultMethod['signals'] | null;
}

/** Five percent of drift over one bracket is common practice. */
export const emptyMethod: MethodDraft = {
  calibration: '',
  drift: '5',
  limits: '',
  standards: '',
  signals: null,
};

export const draftOf = (method: ResultMethod): MethodDraft => ({
  calibration: String(method.calibrationRelativeUncertaintyPercent),
  drift: String(method.driftLimitPercent),
  limits: textOfLimits(method),
  standards: textOfStandards(method),
  signals: method.signals ?? null,
});

/** Whether the figures of a file are signals, at least of one element. */
export const hasSignals = ({ elements, unit }: ResultMapping): boolean =>
  isSignal(unit) || elements.some((one) => one.element !== null && isSignal(one.unit));

/** The method as it is typed, or what is not right in it. */
export function methodOf(
  draft: MethodDraft,
  mapping: ResultMapping | undefined,
): { readonly method: ResultMethod } | { readonly problem: string } {
  const calibration = decimalOf(draft.calibration);
  const drift = decimalOf(draft.drift);
  if (typeof calibration !== 'number') return { problem: 'State the calibration uncertainty' };
  if (typeof drift !== 'number') return { problem: 'State the drift limit' };
  const limits = limitsIn(draft.limits);
  if ('problem' in limits) return limits;
  const standards = standardsIn(draft.standards);
  if ('problem' in standards) return standards;
  const isOfSignals = mapping !== undefined && hasSignals(mapping);
  const signals = draft.signals ?? (isOfSignals ? usualSignals : undefined);
  return {
    method: {
      calibrationRelativeUncertaintyPercent: calibration,
      driftLimitPercent: drift,
      ...limits,
      ...standards,
      ...(signals ? { signals } : {}),
    },
  };
}
