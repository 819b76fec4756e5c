import type { Refusal } from '../../../journal/refusal.ts';
import type { Titrated, TitrationRecorded } from './bodies.ts';
import { confirmEndPoint } from './confirm-end-point.ts';
import type { StatedTitration, TitrationCommand } from './inputs.ts';

/** Every end point of a run, confirmed. */
export interface Confirmed {
  readonly reagentBlank: TitrationRecorded['reagentBlank'];
  readonly standards: TitrationRecorded['standards'];
  readonly samples: readonly Titrated[];
  readonly references: TitrationRecorded['references'];
}

/** Every end point of the run, or all the reasons why one of them does not count. */
export function confirmAll(
  input: TitrationCommand,
): Confirmed | { readonly refusals: readonly Refusal[] } {
  const refusals: Refusal[] = [];
  const confirmed = (label: string, field: string, stated: StatedTitration): Titrated[] => {
    const one = confirmEndPoint({ label, field }, stated, input);
    if ('titrated' in one) return [one.titrated];
    refusals.push(...one.refusals);
    return [];
  };
  const { reagentBlank: blank, references = [], standards: stated = [] } = input;
  const blankCurve =
    blank.kind === 'titrated' ? confirmed('the blank', 'reagentBlank', blank)[0] : undefined;
  const standards = stated.flatMap((one, index) =>
    confirmed(one.label, `standards.${index}`, one).map((titrated) => ({
      label: one.label,
      silver: one.silver,
      titrated,
    })),
  );
  const samples = input.samples.flatMap((one, index) =>
    confirmed(one.label, `samples.${index}`, one),
  );
  const portions = references.flatMap((one, index) =>
    confirmed(one.label, `references.${index}`, one).map((titrated) => ({
      label: one.label,
      titrated,
    })),
  );
  if (refusals.length > 0) return { refusals };
  const reagentBlank =
    blank.kind === 'titrated'
      ? { kind: blank.kind, titrated: blankCurve as Titrated }
      : { ...blank };
  return { reagentBlank, standards, samples, references: portions };
}
