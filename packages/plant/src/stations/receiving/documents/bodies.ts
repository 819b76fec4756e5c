import { z } from 'zod';
import { calculatedSchema } from '../../../journal/calculated.ts';
import { idSchema, reasonSchema, titleSchema } from '../../registers/index.ts';
import { keptFileSchema } from '../difference/bodies.ts';
import { contentUnits } from './content.ts';

/** What a certificate says that does not fit. */
const certificateFindings = [
  'fineness below the least',
  'impurities beyond what the least fineness leaves',
  'fineness above what the impurities leave',
  'fineness not that of the packing list',
] as const;

export type CertificateFinding = (typeof certificateFindings)[number];

const certifiedContent = z.strictObject({
  element: z.string(),
  content: z.number(),
  unit: z.enum(contentUnits),
  isBelow: z.boolean(),
  contentMilligramsPerKilogram: z.number(),
});

const certifiedMelt = z.strictObject({
  melt: idSchema,
  finenessPerMille: z.number().nullable(),
  composition: z.array(certifiedContent),
  /** Of the impurities against what the least fineness leaves for them; nothing where none is stated. */
  check: calculatedSchema.nullable(),
  /** A thousand less the impurities that were found; nothing where none is stated. */
  leftByImpuritiesPerMille: z.number().nullable(),
  findings: z.array(z.enum(certificateFindings)),
});

export const materialCertificateAttached = z.strictObject({
  consignment: idSchema,
  supplier: idSchema,
  document: titleSchema,
  file: keptFileSchema,
  melts: z.array(certifiedMelt).min(1),
  /** Melts of the certificate that are not in the consignment. */
  strange: z.array(idSchema),
  /** Melts of the consignment that no certificate names. */
  missing: z.array(idSchema),
});

export type CertifiedMelt = Readonly<z.infer<typeof certifiedMelt>>;
export type MaterialCertificateAttachedBody = Readonly<z.infer<typeof materialCertificateAttached>>;

export const certificateForgone = z.strictObject({
  consignment: idSchema,
  melts: z.array(idSchema).min(1),
  reason: reasonSchema,
});

export type CertificateForgoneBody = Readonly<z.infer<typeof certificateForgone>>;
