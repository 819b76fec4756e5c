const tubesLookedBack = 10;
const warnFactor = 3;

/**
 * Whether the line should stop because mean piece mass or tare drifts.
 *
 * Formula: true where, of the last ten tubes, two or more lie beyond 3 standard uncertainties on the
 * same side.
 *
 * @param standardizedResiduals net reading less expected mass in standard uncertainties, oldest
 * first; may be empty
 * @returns true to stop and to restart the reference mean
 * Validity: a rule of the line, not a test with a stated risk; for independent normal residuals two
 * on one side of ten happen by chance about once in six thousand sets.
 * Source: common practice
 * @example shouldStopLine([0.1, 3.4, -0.2, 3.1]) // true
 */
export function shouldStopLine(standardizedResiduals: readonly number[]): boolean {
  const recent = standardizedResiduals.slice(-tubesLookedBack);
  const heavy = recent.filter((residual) => residual > warnFactor).length;
  const light = recent.filter((residual) => residual < -warnFactor).length;
  return heavy >= 2 || light >= 2;
}
