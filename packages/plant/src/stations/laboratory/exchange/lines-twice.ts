import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { SetAside } from './file-bodies.ts';
import { exchangeRefusals } from './refusals.ts';

/** Lines of a file that are both taken and set aside. */
export function linesTwice(
  rows: readonly { readonly line: number; readonly label: string }[],
  setAside: readonly SetAside[],
): readonly Refusal[] {
  const aside = new Set(setAside.map(({ line }) => line));
  return rows
    .filter(({ line }) => aside.has(line))
    .map(({ line, label }) =>
      refuse(exchangeRefusals, 'LineTakenAndAside', {
        message: `Line ${line} of ${label} is taken and set aside.`,
        field: 'setAside',
        figures: { line, label },
      }),
    );
}
