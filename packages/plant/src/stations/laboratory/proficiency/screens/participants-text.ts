import { decimalOf } from '../../../../workbench/number-text.ts';

export interface Participant {
  readonly name: string;
  readonly value: number;
  readonly uncertainty: { readonly expanded: number; readonly coverageFactor: number } | null;
}

const usualFactor = 2;

function participantOf(line: string): Participant | { readonly problem: string } {
  const [name = '', value = '', expanded = '', factor = ''] = line
    .split(/\s*[;\t]\s*/)
    .map((part) => part.trim());
  const number = decimalOf(value);
  const uncertainty = decimalOf(expanded);
  const coverageFactor = factor === '' ? usualFactor : decimalOf(factor);
  const isRight =
    name !== '' &&
    typeof number === 'number' &&
    (uncertainty === null || typeof uncertainty === 'number') &&
    typeof coverageFactor === 'number';
  if (!isRight) return { problem: `“${line}” is no result, as “Laboratory 3; 916.8; 0.2; 2”` };
  return {
    name,
    value: number,
    uncertainty: uncertainty === null ? null : { expanded: uncertainty, coverageFactor },
  };
}

/** Results of the other participants as they are pasted: name, value, expanded uncertainty, factor. */
export function participantsIn(
  text: string,
): { readonly others: readonly Participant[] } | { readonly problem: string } {
  const others: Participant[] = [];
  for (const line of text.split('\n')) {
    if (line.trim() === '') continue;
    const one = participantOf(line.trim());
    if ('problem' in one) return one;
    others.push(one);
  }
  return { others };
}
