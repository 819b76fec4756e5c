import type { FaultModel, FaultVariable, Sighting } from './fault-model.ts';

/** Longer than any name that a model may have, so that it can be none of them. */
const slackName = (at: number): string => `what look ${at} saw`.padEnd(201, '.');

/** A factor of one look sees so many faults at once; more at the same place are left out. */
const mostSeenAtOnce = 4;

/** The chance that each sighting shows an option of a variable; 0 where it cannot. */
type Chances = (name: string, value: number) => readonly number[];

function chancesOf(sightings: readonly Sighting[]): Chances {
  const tables = sightings.map(
    ({ shows }) =>
      new Map(shows.map(({ name, value, seenIfThere }) => [`${value} ${name}`, seenIfThere])),
  );
  return (name, value) => tables.map((table) => table.get(`${value} ${name}`) ?? 0);
}

/** Every way in which some sightings see an option and the others do not, with its chance. */
function waysSeen(chances: readonly number[]): readonly { seen: number[]; chance: number }[] {
  let ways: { seen: number[]; chance: number }[] = [{ seen: [], chance: 1 }];
  for (const chance of chances) {
    ways = ways.flatMap((way) => [
      { seen: [...way.seen, 0], chance: way.chance * (1 - chance) },
      ...(chance > 0 ? [{ seen: [...way.seen, 1], chance: way.chance * chance }] : []),
    ]);
  }
  return ways.filter(({ chance }) => chance > 0);
}

/** A variable whose options say as well which looks saw them. */
function seenVariable(variable: FaultVariable, chances: Chances): FaultVariable {
  const options = variable.options.flatMap(({ value, weight, signature }) =>
    waysSeen(chances(variable.name, value)).map(({ seen, chance }) => ({
      value,
      weight: weight * chance,
      signature: [...signature, ...seen],
    })),
  );
  return { name: variable.name, options };
}

/**
 * What makes every number of faults seen by a look from one on count as the same, and that it saw something
 * that was not there. Against the second, which weighs 1, a fault that is seen weighs 1 over its chance.
 */
function slackOf(sighting: Sighting, dimensions: number, dimension: number): FaultVariable {
  const options = Array.from({ length: mostSeenAtOnce }, (_, at) => ({
    value: -1 - at,
    weight: 1 / sighting.falseSightingProbability,
    signature: Array.from({ length: dimensions }, (__, place) =>
      place === dimension ? -1 - at : 0,
    ),
  }));
  return { name: slackName(dimension), options };
}

/** The model with a residual for each look that found something; the same where none did. */
export function withSightings(model: FaultModel): FaultModel {
  const sightings = model.sightings ?? [];
  if (sightings.length === 0) return model;
  const chances = chancesOf(sightings);
  const cells = model.residual.length;
  const dimensions = cells + sightings.length;
  return {
    residual: [...model.residual, ...sightings.map(() => 0)],
    variables: [
      ...model.variables.map((variable) => seenVariable(variable, chances)),
      ...sightings.map((sighting, at) => slackOf(sighting, dimensions, cells + at)),
    ],
  };
}

interface Rated {
  readonly name: string;
  readonly value: number;
  readonly probability: number;
}

/** The faults of the model as it was given: seen and unseen together, and no slack. */
export function withoutSightings(model: FaultModel, faults: readonly Rated[]): readonly Rated[] {
  if (!model.sightings?.length) return faults;
  const slack = new Set(model.sightings.map((_, at) => slackName(model.residual.length + at)));
  const sums = new Map<string, Rated>();
  for (const { name, value, probability } of faults) {
    if (slack.has(name)) continue;
    const key = `${value} ${name}`;
    const before = sums.get(key)?.probability ?? 0;
    sums.set(key, { name, value, probability: Math.min(1, before + probability) });
  }
  return [...sums.values()];
}

/** Logarithm of how much better a look's finding fits what is left unseen with this chance than no fault. */
function logRatio(falseSightingProbability: number, logUnseen: number): number {
  const unseen = (1 - falseSightingProbability) * Math.exp(logUnseen);
  return Math.log1p(-unseen) - Math.log(falseSightingProbability);
}

/** What looks say of single faults, and of sets of them: the second is no product of the first. */
interface SightingWeights {
  /** The model with each option weighed by what the looks say of it alone. */
  readonly model: FaultModel;
  /** Logarithm by which a set weighs other than the product of its faults so weighed. */
  readonly logOfSet: (
    faults: readonly { readonly name: string; readonly value: number }[],
  ) => number;
}

/** The weights for stories, which name sets of faults one by one. */
export function sightingWeights(model: FaultModel): SightingWeights {
  const sightings = model.sightings ?? [];
  if (sightings.length === 0) return { model, logOfSet: () => 0 };
  const chances = chancesOf(sightings);
  const logOf = (logUnseen: readonly number[]): readonly number[] =>
    logUnseen.map((log, at) => logRatio(sightings[at]?.falseSightingProbability ?? 1, log));
  const logUnseenOf = (name: string, value: number): readonly number[] =>
    chances(name, value).map((chance) => Math.log1p(-chance));
  const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);
  const variables = model.variables.map(({ name, options }) => ({
    name,
    options: options.map((option) => ({
      ...option,
      weight: option.weight * Math.exp(sum(logOf(logUnseenOf(name, option.value)))),
    })),
  }));
  return {
    model: { residual: model.residual, variables },
    logOfSet: (faults) => {
      const unseen = faults.map(({ name, value }) => logUnseenOf(name, value));
      const together = sightings.map((_, at) => sum(unseen.map((logs) => logs[at] ?? 0)));
      return sum(logOf(together)) - sum(unseen.map((logs) => sum(logOf(logs))));
    },
  };
}
