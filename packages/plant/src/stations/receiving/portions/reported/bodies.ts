import { z } from 'zod';
import { calculatedSchema } from '../../../../journal/calculated.ts';
import { daySchema, idSchema, reasonSchema, titleSchema } from '../../../registers/index.ts';
import { recipients } from '../words.ts';

const entryNumber = z.int().min(1);

/** A figure in ‰ as its document states it, with its decimals, beside the number. */
const statedPerMille = z.strictObject({ text: z.string(), perMille: z.number() });

export const portionResultReported = z.strictObject({
  portion: idSchema,
  melt: idSchema,
  consignment: idSchema,
  from: z.enum(recipients),
  /** Entry with which the portion went to him. */
  sending: entryNumber,
  fineness: statedPerMille,
  /** Nothing where none is stated. */
  uncertainty: statedPerMille
    .extend({ coverageFactor: z.number(), standardPerMille: z.number() })
    .nullable(),
  /** Greatest difference that is settled without an umpire; nothing where none is stated. */
  splittingLimit: statedPerMille.nullable(),
  document: titleSchema,
  reportedOn: daySchema,
  method: titleSchema,
});

export const exchangeSettled = z.strictObject({
  melt: idSchema,
  agreed: statedPerMille,
  document: titleSchema,
  words: reasonSchema,
  /** Entries of the results that were compared; nothing for an umpire who has not spoken. */
  ownResult: entryNumber,
  supplierReport: entryNumber,
  umpireReport: entryNumber.nullable(),
  /** The comparison on which it rests; nothing where no limit is known. */
  exchange: calculatedSchema.nullable(),
});

export type StatedPerMille = Readonly<z.infer<typeof statedPerMille>>;
export type PortionResultReportedBody = Readonly<z.infer<typeof portionResultReported>>;
export type ExchangeSettledBody = Readonly<z.infer<typeof exchangeSettled>>;
