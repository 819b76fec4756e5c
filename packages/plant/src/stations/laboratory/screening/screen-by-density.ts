import {
  type DensityScreenOutput,
  densityScreenInput,
  type HydrostaticDensityOutput,
  waterDensity,
} from '@cupel/calculation';
import { z } from 'zod';
import { massReadingSchema, readingGrams } from '../../../journal/reading.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { type Instrument, idSchema } from '../../registers/index.ts';
import { weighingStandardUncertaintyMilligrams } from '../cupellation-run.ts';
import type { SampledMelt } from '../melt-facts.ts';
import { runCalculated } from '../run-facts.ts';
import { BlankScreened } from './entries.ts';
import { type ScreeningFacts, screenable, screeningFacts } from './screening-facts.ts';

const {
  alloyMetal,
  alloyDensityGramsPerCubicCentimetre,
  mixingRelativeUncertaintyPercent,
  confidencePercent,
} = densityScreenInput.shape;

const degreesForm = 'a temperature from 0 to 40 °C';
const kelvinForm = 'a standard uncertainty from 0 to 5 K';
const airForm = 'an air density from 0.9 to 1.4 kg/m³';

const densityInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'The melt that the blank was drawn from.' }),
  blank: idSchema.meta({ title: 'Blank', description: 'The id of the drawn blank.' }),
  instrument: idSchema.meta({ title: 'Balance', description: 'That gave both weighings.' }),
  inAir: massReadingSchema.meta({ title: 'In air', description: 'As the balance sent it.' }),
  inWater: massReadingSchema.meta({
    title: 'In water',
    description: 'Of the blank alone, hanging in water without bubbles.',
  }),
  waterTemperatureCelsius: z
    .number(degreesForm)
    .min(0, degreesForm)
    .max(40, degreesForm)
    .meta({ title: 'Water temperature', unit: '°C' }),
  waterTemperatureStandardUncertaintyKelvin: z
    .number(kelvinForm)
    .min(0, kelvinForm)
    .max(5, kelvinForm)
    .meta({ title: 'Its standard uncertainty', unit: 'K' }),
  dissolvedAir: z.enum(['none', 'saturated'], 'none or saturated').meta({
    title: 'Dissolved air',
    description: 'None in water freshly boiled; saturated in water that has stood.',
  }),
  airDensityKilogramsPerCubicMetre: z
    .number(airForm)
    .min(0.9, airForm)
    .max(1.4, airForm)
    .meta({ title: 'Air density', description: '1.2 is usual.', unit: 'kg/m³' }),
  alloyMetal,
  alloyDensityGramsPerCubicCentimetre,
  mixingRelativeUncertaintyPercent,
  confidencePercent,
});

type DensityCommand = z.infer<typeof densityInput>;

/** Densities of the fine metals at 20 °C, in g/cm³, as the CRC Handbook gives them. */
const fineDensities = { gold: 19.3, silver: 10.49 } as const;
const kilogramsPerCubicMetre = 1000;

/** The density that the weighings give, with its uncertainty and that of the water. */
function weighedDensity(input: DensityCommand, balance: Instrument) {
  const { waterTemperatureCelsius: degrees, waterTemperatureStandardUncertaintyKelvin: spread } =
    input;
  const density = runCalculated<HydrostaticDensityOutput>(
    'hydrostatic-density',
    {
      readingInAirGrams: readingGrams(input.inAir),
      readingInLiquidGrams: readingGrams(input.inWater),
      readingStandardUncertaintyMilligrams: weighingStandardUncertaintyMilligrams(balance),
      liquid: {
        kind: 'water',
        temperatureCelsius: degrees,
        temperatureStandardUncertaintyKelvin: spread,
        dissolvedAir: input.dissolvedAir,
      },
      airDensityKilogramsPerCubicMetre: input.airDensityKilogramsPerCubicMetre,
    },
    densityField,
  );
  // Half the change of the density of water between the temperature plus and minus its spread.
  const [warm, cold] = [Math.min(40, degrees + spread), Math.max(0, degrees - spread)];
  const liquidUncertainty = Math.abs(waterDensity(warm) - waterDensity(cold)) / 2;
  return { density, liquidUncertainty };
}

/** The field of the command that a field of the calculations was read from. */
function densityField(field: string): string {
  return field
    .replace(/^readingInAirGrams$|^massInAirGrams$/, 'inAir')
    .replace(/^readingInLiquidGrams$|^massInLiquidGrams$/, 'inWater')
    .replace(/^liquid\.temperatureCelsius$/, 'waterTemperatureCelsius');
}

function screenInput(
  input: DensityCommand,
  sampled: SampledMelt,
  water: { readonly gramsPerCubicCentimetre: number; readonly standardUncertainty: number },
  balance: Instrument,
) {
  const { standard } = sampled;
  return {
    label: input.blank,
    declaredFinenessPerMille: standard.finenessDeclaredPartsPerMillion / 1000,
    fineMetal: standard.metal,
    fineDensityGramsPerCubicCentimetre: fineDensities[standard.metal],
    alloyMetal: input.alloyMetal,
    alloyDensityGramsPerCubicCentimetre: input.alloyDensityGramsPerCubicCentimetre,
    massInAirGrams: readingGrams(input.inAir),
    massInLiquidGrams: readingGrams(input.inWater),
    massStandardUncertaintyGrams: weighingStandardUncertaintyMilligrams(balance) / 1000,
    liquidDensityGramsPerCubicCentimetre: water.gramsPerCubicCentimetre,
    liquidStandardUncertaintyGramsPerCubicCentimetre: water.standardUncertainty,
    mixingRelativeUncertaintyPercent: input.mixingRelativeUncertaintyPercent,
    confidencePercent: input.confidencePercent,
  };
}

function decideDensity(input: DensityCommand, facts: ScreeningFacts): Decision {
  const known = screenable(input, facts, ['balance']);
  if ('refusals' in known) return known;
  const balance = facts.instrument.instrument;
  if (!balance) return { refusals: [] };
  const { density, liquidUncertainty } = weighedDensity(input, balance);
  if ('refusals' in density) return density;
  const water = {
    gramsPerCubicCentimetre:
      density.output.liquidDensityKilogramsPerCubicMetre / kilogramsPerCubicMetre,
    standardUncertainty: liquidUncertainty / kilogramsPerCubicMetre,
  };
  const screen = runCalculated<DensityScreenOutput>(
    'density-screen',
    screenInput(input, known.sampled, water, balance),
    densityField,
  );
  if ('refusals' in screen) return screen;
  const { melt, blank, instrument, inAir, inWater } = input;
  const { flag, words } = screen.output;
  const body = {
    melt,
    pieceStandard: known.sampled.standard.pieceStandard,
    blank,
    means: 'density' as const,
    instrument,
    weighings: { inAir, inWater },
    density: density.calculated,
    screen: screen.calculated,
    flag,
    words,
  };
  return {
    entries: [draft(BlankScreened, body, { instrument })],
    answer: { melt, blank, flag, words },
  };
}

/** Screens a blank by its density, weighed in air and in water. */
export const screenByDensity = defineCommand({
  command: 'screen-by-density',
  station: 'laboratory',
  title: 'Screen blank by density',
  input: densityInput,
  roles: ['assayer', 'inspector'],
  signature: 'none',
  facts: screeningFacts,
  decide: decideDensity,
});
