import type { CupellationInput, CupellationOutput } from '@cupel/calculation';
import { z } from 'zod';
import { invariant } from '../../../journal/fault.ts';
import { massReadingSchema, readingMilligrams } from '../../../journal/reading.ts';
import type { Refusal } from '../../../journal/refusal.ts';
import { determinationsOfRun } from '../cupellation-run.ts';
import { readingsNotAccepted, runCalculated } from '../run-facts.ts';
import type { ControlFacts } from './control-facts.ts';
import { referenceFields, type StatedControls } from './inputs.ts';
import { type FoundReference, judgeControls } from './judge.ts';

const method = 'cupellation' as const;

/** A reference portion as the command of a cupellation run takes it. */
export const cupelledReference = z.strictObject({
  ...referenceFields,
  cornet: massReadingSchema.meta({ title: 'Cornet', description: 'Gold left after parting.' }),
});

type CupelledReference = z.infer<typeof cupelledReference>;

/** The field of the command that a field of the calculation was read from. */
export function readingField(field: string): string {
  return field
    .replace(/cornetMassMilligrams$/, 'cornet')
    .replace(/sampleMassMilligrams$/, 'sample')
    .replace(/goldTakenMilligrams$/, 'goldTaken');
}

/** Refuses readings from which more gold would follow than there is metal. */
export function aboveWhole(
  output: CupellationOutput,
  list = 'samples',
  from = 0,
): readonly Refusal[] {
  return output.determinations.flatMap((one, index) =>
    one.finenessPerMille <= 1000
      ? []
      : readingsNotAccepted({
          field: `${list}.${from + index}.cornet`,
          value: `the cause of a fineness of ${one.finenessPerMille} ‰`,
          accepted: 'a cornet that leaves the fineness at or below 1000 ‰ after the correction',
        }),
  );
}

/**
 * What the run finds of a reference portion: computed like any other portion, with the same proofs.
 * Its uncertainty is that of one portion, with what the run and the proof gold share with it.
 */
function findReference(
  reference: CupelledReference,
  index: number,
  numbers: CupellationInput,
): FoundReference | { readonly refusals: readonly Refusal[] } {
  const { label, taken, cornet } = reference;
  const input: CupellationInput = {
    ...numbers,
    samples: [
      {
        label,
        sampleMassMilligrams: readingMilligrams(taken),
        cornetMassMilligrams: readingMilligrams(cornet),
      },
    ],
  };
  const computed = runCalculated<CupellationOutput>(method, input, (field) =>
    readingField(field)
      .replace(/^samples\.0/, `references.${index}`)
      .replace(/sample$/, 'taken'),
  );
  if ('refusals' in computed) return computed;
  const impossible = aboveWhole(computed.output, 'references', index);
  if (impossible.length > 0) return { refusals: impossible };
  const [found] = determinationsOfRun(input, computed.output, [label]);
  invariant(found, `reference portion ${label} has no determination`);
  return {
    ...reference,
    readings: [{ what: 'cornet', reading: cornet }],
    calculated: computed.calculated,
    found: [
      {
        quantity: 'fineness',
        unit: '‰',
        value: found.finenessPerMille,
        standardUncertainty: Math.hypot(
          found.ownStandardUncertaintyPerMille,
          found.runStandardUncertaintyPerMille,
          found.methodStandardUncertaintyPerMille,
        ),
      },
    ],
  };
}

/** The controls of a cupellation run, judged with the proofs and the balance of the run itself. */
export function cupelledControls(
  run: Omit<StatedControls, 'references'> & {
    readonly assayRun: string;
    readonly references?: readonly CupelledReference[] | undefined;
  },
  facts: ControlFacts,
  numbers: CupellationInput,
): ReturnType<typeof judgeControls> {
  const { assayRun, references: portions = [] } = run;
  const computed = portions.map((one, index) => findReference(one, index, numbers));
  const bad = computed.flatMap((one) => ('refusals' in one ? one.refusals : []));
  if (bad.length > 0) return { refusals: bad };
  const references = computed.flatMap((one) => ('refusals' in one ? [] : [one]));
  return judgeControls({ assayRun, references, controls: run }, facts);
}
