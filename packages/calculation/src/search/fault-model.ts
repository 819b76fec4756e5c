import { z } from 'zod';
import { requireDomain } from '../quantity/domain.ts';

const finite = (accepted: string) => z.number(accepted).refine(Number.isFinite, accepted);

const wholeNumbers = (title: string, description: string) =>
  z
    .array(
      z
        .int('whole numbers of pieces within ten million')
        .min(-10_000_000, 'whole numbers of pieces within ten million')
        .max(10_000_000, 'whole numbers of pieces within ten million')
        .meta({ title: 'Pieces', unit: 'pieces' }),
    )
    .min(1, '1 to 40 residuals')
    .max(40, '1 to 40 residuals')
    .meta({ title, description, unit: 'pieces' });

export const faultOption = z.strictObject({
  value: z
    .int('a whole number')
    .meta({ title: 'Size of the fault', description: 'As people say it: -1 for one too few' }),
  weight: finite('a weight from 0').min(0, 'a weight from 0').meta({
    title: 'Weight',
    description:
      'Odds of the fault before looking, times how much better it explains the weighings than no fault',
  }),
  signature: wholeNumbers('Signature', 'What it adds to each residual'),
});

export const faultVariable = z.strictObject({
  name: z.string().min(1, 'a name').max(200).meta({ title: 'What can be wrong' }),
  options: z
    .array(faultOption)
    .min(1, '1 to 1000 ways to be wrong')
    .max(1000, '1 to 1000 ways to be wrong')
    .meta({ title: 'Ways to be wrong' }),
});

export const faultModelInput = z.strictObject({
  residual: wholeNumbers('Residuals', 'Book less tally of every custody cell; positive is missing'),
  variables: z
    .array(faultVariable)
    .min(1, '1 to 20000 things that can be wrong')
    .max(20_000, '1 to 20000 things that can be wrong')
    .meta({ title: 'Things that can be wrong' }),
});

export type FaultOption = z.infer<typeof faultOption>;
export type FaultVariable = z.infer<typeof faultVariable>;
export type FaultModel = z.infer<typeof faultModelInput>;

/** Refuses signatures of another length than the residuals, and names that stand twice. */
export function requireFaultModel(model: FaultModel): void {
  const names = new Set<string>();
  for (const [at, variable] of model.variables.entries()) {
    requireDomain(!names.has(variable.name), {
      field: `variables.${at}.name`,
      value: variable.name,
      accepted: 'a name that no other variable has',
    });
    names.add(variable.name);
    for (const [place, { signature }] of variable.options.entries()) {
      requireDomain(signature.length === model.residual.length, {
        field: `variables.${at}.options.${place}.signature`,
        value: signature,
        accepted: `${model.residual.length} whole numbers, one for each residual`,
      });
    }
  }
}
