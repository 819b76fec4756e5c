/** The least probability, and the least distance from sure, that is told in figures. */
const leastTold = 1e-4;
/** Nearer to sure than this the nines are not counted on. */
const nearestToSure = 1e-9;
const space = '\u00a0';
const rare = `less than 1 in 10${space}000`;

/** As many decimals as two significant digits of the smaller side need. */
function decimalsOf(probability: number): number {
  const smaller = Math.min(probability, 1 - probability);
  return 1 - Math.floor(Math.log10(smaller));
}

function fixed(value: number, decimals: number, least: number): string {
  const [whole = '0', fraction = ''] = value.toFixed(decimals).split('.');
  const kept = fraction.replace(/0+$/, '').padEnd(least, '0');
  return kept === '' ? whole : `${whole}.${kept}`;
}

/**
 * A probability for a sentence, so that nothing is rounded to impossible or to sure: two significant
 * digits of the probability or of what it lacks to 1, whichever is smaller.
 *
 * @param probability from 0 to 1
 * @param decimals digits after the point at least; 0 when left out
 * @returns text such as '0.032' or '0.99996'; below 0.0001 'less than 1 in 10 000', and within a
 *   thousand-millionth of 1 'more than 0.999999999'
 * Validity: for display only; nothing is compared with it. Source: common practice
 * @example probabilityText(0.99996) // '0.99996'
 */
export function probabilityText(probability: number, decimals = 0): string {
  if (probability < leastTold) return rare;
  if (1 - probability < nearestToSure) return 'more than 0.999999999';
  return fixed(probability, Math.max(decimals, decimalsOf(probability)), decimals);
}

/**
 * The same in per cent.
 *
 * @param probability from 0 to 1
 * @param decimals digits after the point at least; 0 when left out
 * @returns text such as '3.2 %' or '99.996 %'; below 0.01 % 'less than 1 in 10 000'
 * Validity: for display only; nothing is compared with it. Source: common practice
 * @example probabilityPercentText(0.99996) // '99.996 %'
 */
export function probabilityPercentText(probability: number, decimals = 0): string {
  if (probability < leastTold) return rare;
  if (1 - probability < nearestToSure) return 'more than 99.9999999 %';
  const needed = Math.max(decimals, decimalsOf(probability) - 2);
  return `${fixed(100 * probability, needed, decimals)} %`;
}
