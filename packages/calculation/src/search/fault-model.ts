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

const chance = (title: string, description: string) =>
  finite('a probability above 0 and at most 1')
    .gt(0, 'a probability above 0 and at most 1')
    .max(1, 'a probability above 0 and at most 1')
    .meta({ title, description });

const sighting = z.strictObject({
  falseSightingProbability: finite('a probability above 0 and below 1')
    .gt(0, 'a probability above 0 and below 1')
    .lt(1, 'a probability above 0 and below 1')
    .meta({
      title: 'Chance of a false sighting',
      description: 'That the look says found although nothing is there',
    }),
  shows: z
    .array(
      z.strictObject({
        name: z.string().min(1, 'a name').max(200).meta({ title: 'What can be wrong' }),
        value: z.int('a whole number').meta({ title: 'Size of the fault' }),
        seenIfThere: chance('Chance to see it', 'That the look sees this fault where it is'),
      }),
    )
    .max(20_000, 'at most 20000 faults that the look can show')
    .meta({ title: 'Faults that can have been what was found' }),
});

export const faultModelInput = z.strictObject({
  residual: wholeNumbers('Residuals', 'Book less tally of every custody cell; positive is missing'),
  variables: z
    .array(faultVariable)
    .min(1, '1 to 20000 things that can be wrong')
    .max(20_000, '1 to 20000 things that can be wrong')
    .meta({ title: 'Things that can be wrong' }),
  sightings: z.array(sighting).max(40, 'at most 40 looks that found something').optional().meta({
    title: 'Looks that found something',
    description: 'Each found at least one of the faults that it can show, or was mistaken',
  }),
});

export type Sighting = z.infer<typeof sighting>;
export type FaultOption = z.infer<typeof faultOption>;
export type FaultVariable = z.infer<typeof faultVariable>;
export type FaultModel = z.infer<typeof faultModelInput>;

/** So many looks can have found the same fault. */
const mostLooksAtOne = 6;

/** Refuses sightings of what cannot be wrong, and too many of one fault. */
function requireSightings({ variables, sightings = [] }: FaultModel): void {
  const known = new Set(
    variables.flatMap(({ name, options }) => options.map(({ value }) => `${value} ${name}`)),
  );
  const looks = new Map<string, number>();
  for (const [at, { shows }] of sightings.entries()) {
    const own = new Set<string>();
    for (const [place, { name, value }] of shows.entries()) {
      const key = `${value} ${name}`;
      requireDomain(known.has(key) && !own.has(key), {
        field: `sightings.${at}.shows.${place}`,
        value: key,
        accepted: 'size and name of an option of a variable, each once',
      });
      own.add(key);
      looks.set(key, (looks.get(key) ?? 0) + 1);
      requireDomain((looks.get(key) ?? 0) <= mostLooksAtOne, {
        field: `sightings.${at}.shows.${place}`,
        value: key,
        accepted: `at most ${mostLooksAtOne} looks that found the same fault`,
      });
    }
  }
}

/** Refuses signatures of another length than the residuals, names that stand twice and looks without sense. */
export function requireFaultModel(model: FaultModel): void {
  requireSightings(model);
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
