import { z } from 'zod';

const figure = (title: string) => z.number().meta({ title });

export const agreementInput = z.strictObject({
  found: figure('Found'),
  foundStandardUncertainty: figure('Standard uncertainty of what was found'),
  certified: figure('Certified'),
  certifiedStandardUncertainty: figure('Standard uncertainty of the certificate'),
  greatestNormalizedError: figure('Greatest Eₙ'),
});

export const agreementOutput = z.strictObject({
  difference: figure('Found less certified'),
  expandedUncertainty: figure('Expanded uncertainty of the difference'),
  normalizedError: figure('Eₙ'),
  agrees: z.boolean(),
});

export type AgreementInput = z.infer<typeof agreementInput>;
export type AgreementOutput = z.infer<typeof agreementOutput>;

/** Version of this judgement, so that a record says by which it was made. */
export const agreementVersion = 1;

const coverageFactor = 2;

/**
 * Whether what a run found of a reference material agrees with its certificate.
 *
 * Formula: Eₙ = (x − X) / √(U²(x) + U²(X)), U = 2·u on both sides; agrees where |Eₙ| is at most the
 * limit of the method, usually 1.
 *
 * @param input found and certified value in one unit; standard uncertainties of which one at least
 *   is above 0; limit above 0
 * @returns difference and expanded uncertainty in that unit, Eₙ; nothing rounded
 * @throws RangeError where both uncertainties are 0
 * Validity: both uncertainties standard, independent of one another, normal. Where the certified
 * metal also went into the proofs of the run they are not independent, and Eₙ is too large.
 * Source: ISO 13528:2022, 9.7 (Eₙ score), a certified value in place of the assigned one
 * @example agreement({ found: 1.62, foundStandardUncertainty: 0.044, certified: 2.99,
 *   certifiedStandardUncertainty: 0.03, greatestNormalizedError: 1 }).normalizedError // -12.862857
 */
export function agreement(input: AgreementInput): AgreementOutput {
  const expandedUncertainty =
    coverageFactor * Math.hypot(input.foundStandardUncertainty, input.certifiedStandardUncertainty);
  if (!(expandedUncertainty > 0)) {
    throw new RangeError('uncertainties 0 and 0; accepted: of which one at least is above 0');
  }
  const difference = input.found - input.certified;
  const normalizedError = difference / expandedUncertainty;
  return {
    difference,
    expandedUncertainty,
    normalizedError,
    // Readings are decimals: a value on the limit but for rounding is on the limit.
    agrees: Math.abs(normalizedError) <= input.greatestNormalizedError * (1 + 1e-12),
  };
}
