import { type FluorescenceScreenOutput, fluorescenceScreenInput } from '@cupel/calculation';
import { z } from 'zod';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { finenessSlip, idSchema } from '../../registers/index.ts';
import { runCalculated } from '../run-facts.ts';
import { BlankScreened } from './entries.ts';
import { type ScreeningFacts, screenable, screeningFacts } from './screening-facts.ts';

const { pieceReadings, standards, surfaceStandardUncertaintyPerMille, confidencePercent } =
  fluorescenceScreenInput.shape;

const fluorescenceInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'The melt that the blank was drawn from.' }),
  blank: idSchema.meta({ title: 'Blank', description: 'The id of the drawn blank.' }),
  instrument: idSchema.meta({ title: 'Spectrometer', description: 'That read the surface.' }),
  pieceReadings,
  standards,
  surfaceStandardUncertaintyPerMille,
  confidencePercent,
});

type FluorescenceCommand = z.infer<typeof fluorescenceInput>;

function decideFluorescence(input: FluorescenceCommand, facts: ScreeningFacts): Decision {
  const known = screenable(input, facts, ['spectrometer']);
  if ('refusals' in known) return known;
  const { standard } = known.sampled;
  const { melt, blank, instrument, ...readings } = input;
  const declaredPerMille = standard.finenessDeclaredPartsPerMillion / 1000;
  const slips = input.standards.flatMap(({ label, certifiedFinenessPerMille }, index) =>
    finenessSlip({
      of: `Standard ${label}`,
      field: `standards.${index}.certifiedFinenessPerMille`,
      finenessPerMille: certifiedFinenessPerMille,
      declaredPerMille,
    }),
  );
  if (slips.length > 0) return { refusals: slips };
  const computed = runCalculated<FluorescenceScreenOutput>(
    'fluorescence-screen',
    {
      label: blank,
      declaredFinenessPerMille: declaredPerMille,
      ...readings,
    },
    (field) => field,
  );
  if ('refusals' in computed) return computed;
  const { flag, words } = computed.output;
  const body = {
    melt,
    pieceStandard: standard.pieceStandard,
    blank,
    means: 'fluorescence' as const,
    instrument,
    weighings: null,
    density: null,
    screen: computed.calculated,
    flag,
    words,
  };
  return {
    entries: [draft(BlankScreened, body, { instrument })],
    answer: { melt, blank, flag, words },
  };
}

/** Screens a blank by X-ray fluorescence against matched standards. */
export const screenByFluorescence = defineCommand({
  command: 'screen-by-fluorescence',
  station: 'laboratory',
  title: 'Screen blank by fluorescence',
  input: fluorescenceInput,
  roles: ['assayer', 'inspector'],
  signature: 'none',
  facts: screeningFacts,
  decide: decideFluorescence,
});
