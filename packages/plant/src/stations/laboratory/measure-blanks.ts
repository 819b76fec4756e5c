import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { lengthReadingSchema, massReadingSchema } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, reasonSchema } from '../registers/index.ts';
import type { BlanksMeasured as BlanksMeasuredBody } from './bodies.ts';
import { standsByVariables } from './by-variables.ts';
import { BlanksMeasured } from './entries.ts';
import { implausibleMeasurements } from './implausible-measurements.ts';
import { judgeAgain, judgeWhenMeasured } from './lot-outcome.ts';
import {
  blanksHeld,
  closedTrial,
  type MeltFacts,
  meltFacts,
  type NamedInstrument,
  namedInstrument,
  notSampled,
  repeatedBlanks,
  type SampledMelt,
  strangeBlanks,
  unfitInstrument,
} from './melt-facts.ts';
import { type BlankReadings, measureBlank } from './physical.ts';
import { laboratoryRefusals } from './refusals.ts';

const readings = {
  blank: idSchema.meta({ title: 'Blank', description: 'The id of the drawn blank.' }),
  mass: massReadingSchema.meta({ title: 'Mass', description: 'As the balance sent it.' }),
  diameter: lengthReadingSchema.meta({ title: 'Diameter', description: 'As gauged.' }),
  thickness: lengthReadingSchema.meta({ title: 'Thickness', description: 'As gauged.' }),
};

const measuredWith = {
  melt: idSchema.meta({ title: 'Melt', description: 'The melt that the blanks were drawn from.' }),
  balance: idSchema.meta({ title: 'Balance', description: 'That weighed the blanks.' }),
  micrometer: idSchema.meta({
    title: 'Micrometer or gauge',
    description: 'That gave diameter and thickness.',
  }),
};

const measureInput = z.strictObject({
  ...measuredWith,
  measurements: z
    .array(z.strictObject(readings), 'a list of measurements')
    .min(1, 'at least one measurement')
    .max(2000, 'at most 2000 measurements')
    .meta({ title: 'Measurements', description: 'Each blank once.' }),
});

const correctInput = z.strictObject({ ...measuredWith, ...readings, reason: reasonSchema });

type Named = Pick<z.infer<typeof measureInput>, 'melt' | 'balance' | 'micrometer'>;

interface MeasuringFacts {
  readonly melt: MeltFacts;
  readonly instruments: readonly [NamedInstrument, NamedInstrument];
}

async function measuringFacts(
  books: BookReader,
  input: Named,
  { instant }: Circumstances,
): Promise<MeasuringFacts> {
  return {
    melt: await meltFacts(books, input.melt),
    instruments: [
      await namedInstrument(books, { id: input.balance, field: 'balance', instant }),
      await namedInstrument(books, { id: input.micrometer, field: 'micrometer', instant }),
    ],
  };
}

function unfitInstruments({ instruments }: MeasuringFacts): readonly Refusal[] {
  const [balance, micrometer] = instruments;
  return [
    ...unfitInstrument(balance, ['balance']),
    ...unfitInstrument(micrometer, ['micrometer', 'gauge']),
  ];
}

function limitsOf({ standard }: SampledMelt): BlanksMeasuredBody['limits'] {
  return {
    massLeastMilligrams: standard.massLeastMilligrams,
    massGreatestMilligrams: standard.massGreatestMilligrams,
    diameterLeastMillimetres: standard.diameterLeastMillimetres,
    diameterGreatestMillimetres: standard.diameterGreatestMillimetres,
    thicknessLeastMillimetres: standard.thicknessLeastMillimetres,
    thicknessGreatestMillimetres: standard.thicknessGreatestMillimetres,
  };
}

function bodyOf(
  input: Named,
  sampled: SampledMelt,
  measurements: readonly Omit<BlankReadings, 'forPhysical'>[],
): BlanksMeasuredBody {
  const { standard, order } = sampled;
  const limits = limitsOf(sampled);
  const measured = measurements.map((one) => {
    const forPhysical = sampled.drawn.get(one.blank)?.forPhysical ?? false;
    return measureBlank({ ...one, forPhysical }, limits);
  });
  const byVariables = standsByVariables(sampled, measured);
  return {
    melt: input.melt,
    pieceStandard: standard.pieceStandard,
    limits,
    balance: input.balance,
    micrometer: input.micrometer,
    measurements: measured,
    ...(byVariables ? { byVariables } : {}),
    blanksForPhysical: order.physicalPieces,
    acceptanceNumber: order.acceptanceNumber,
    rejectionNumber: order.rejectionNumber,
  };
}

function decideMeasuring(input: z.infer<typeof measureInput>, facts: MeasuringFacts): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const closed = closedTrial(sampled.trial);
  if (closed.length > 0) return { refusals: closed };
  const named = input.measurements.map(({ blank }, index) => ({
    blank,
    field: `measurements.${index}.blank`,
  }));
  const again = named
    .filter(({ blank }) => sampled.measured.has(blank))
    .map(({ blank, field }) =>
      refuse(laboratoryRefusals, 'BlankAlreadyMeasured', {
        message: `Blank ${blank} was measured in entry ${sampled.measured.get(blank)?.measurement.entry}.`,
        field,
        figures: { blank, entry: sampled.measured.get(blank)?.measurement.entry ?? null },
      }),
    );
  const refusals = [
    ...unfitInstruments(facts),
    ...strangeBlanks(sampled, named),
    ...repeatedBlanks(named),
    ...blanksHeld(sampled, named),
    ...again,
  ];
  if (refusals.length > 0) return { refusals };
  const implausible = implausibleMeasurements(
    input.measurements,
    limitsOf(sampled),
    (index) => `measurements.${index}.`,
  );
  if (implausible.length > 0) return { refusals: implausible };
  const body = bodyOf(input, sampled, input.measurements);
  const outside = body.measurements.filter((one) => one.faults.length > 0);
  return {
    entries: [
      draft(BlanksMeasured, body, { instrument: input.balance }),
      ...judgeWhenMeasured(sampled, body.measurements),
    ],
    answer: {
      melt: input.melt,
      blanksMeasured: body.measurements.length,
      nonconforming: outside.map(({ blank, faults }) => ({ blank, faults: [...faults] })),
    },
  };
}

/** Weighs and gauges drawn blanks. */
export const measureBlanks = defineCommand({
  command: 'measure-blanks',
  station: 'laboratory',
  title: 'Measure blanks',
  input: measureInput,
  roles: ['inspector'],
  signature: 'none',
  facts: measuringFacts,
  decide: decideMeasuring,
});

function decideCorrecting(input: z.infer<typeof correctInput>, facts: MeasuringFacts): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const closed = closedTrial(sampled.trial);
  if (closed.length > 0) return { refusals: closed };
  const strange = strangeBlanks(sampled, [{ blank: input.blank, field: 'blank' }]);
  const refusals = [...unfitInstruments(facts), ...strange];
  if (refusals.length > 0) return { refusals };
  const before = sampled.measured.get(input.blank);
  if (!before) {
    return {
      refusals: [
        refuse(laboratoryRefusals, 'BlankNotMeasured', {
          message: `Blank ${input.blank} has no measurement that could be corrected.`,
          field: 'blank',
          figures: { blank: input.blank },
        }),
      ],
    };
  }
  const implausible = implausibleMeasurements([input], limitsOf(sampled), () => '');
  if (implausible.length > 0) return { refusals: implausible };
  const { blank, mass, diameter, thickness, reason, balance } = input;
  const body = bodyOf(input, sampled, [{ blank, mass, diameter, thickness }]);
  const corrects = before.measurement.entry;
  return {
    entries: [
      draft(BlanksMeasured, body, { instrument: balance, corrects, reason }),
      ...body.measurements.flatMap((one) => judgeAgain(sampled, one, reason)),
    ],
    answer: { melt: input.melt, blank, faults: [...(body.measurements[0]?.faults ?? [])] },
  };
}

/** Corrects the measurement of one blank; the first one stays visible with the reason. */
export const correctMeasurement = defineCommand({
  command: 'correct-measurement',
  station: 'laboratory',
  title: 'Correct measurement',
  input: correctInput,
  roles: ['inspector'],
  signature: 'author',
  facts: measuringFacts,
  decide: decideCorrecting,
});
