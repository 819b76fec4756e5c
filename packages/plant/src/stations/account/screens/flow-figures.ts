import { printMicrograms, printNumber } from '../../../workbench/number-text.ts';

const microgramsPer = { kg: 1e9, g: 1e6 } as const;

/** A mass in the unit in which a person would say it: a trace is not 0.000 kg. */
function massWords(micrograms: number): string {
  const size = Math.abs(micrograms);
  if (size >= microgramsPer.kg) return `${printMicrograms(micrograms, 'kg', 3)} kg`;
  if (size >= microgramsPer.g) return `${printMicrograms(micrograms, 'g', 2)} g`;
  return `${printMicrograms(micrograms, 'mg', 1)} mg`;
}

/** What went one way: pieces where there were some, and the gross mass. */
export function flowFigures(flow: {
  readonly pieces: number;
  readonly grossMicrograms: number;
}): string {
  const mass = massWords(flow.grossMicrograms);
  if (flow.pieces === 0) return mass;
  return `${printNumber(flow.pieces)} ${flow.pieces === 1 ? 'piece' : 'pieces'}, ${mass}`;
}
