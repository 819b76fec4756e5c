import {
  type AssayRunRow,
  blankLabel,
  calculatedOfTitration,
  endPointName,
  factorName,
  portionName,
  type TitrationRecorded,
  type Vessel,
} from '../laboratory/index.ts';
import type {
  CalculationFigure,
  CertifiedMelt,
  CertifiedReading,
  NamedCalculation,
} from './content.ts';

/** Names of calculations are unique in a melt: each bears the name of its run. */
const inRun = (run: AssayRunRow, name: string): string => `${run.assayRun} ${name}`;

const figure = (calculation: string, field: string): CalculationFigure => ({ calculation, field });

/** Every calculation of a titration run: end points of the curves, factor, and each portion. */
export function titrationCalculations(
  run: AssayRunRow,
  worksheet: TitrationRecorded,
): readonly NamedCalculation[] {
  return calculatedOfTitration(worksheet).map(({ name, calculated }) => ({
    name: inRun(run, name),
    entry: run.entry,
    calculated: calculated as NamedCalculation['calculated'],
  }));
}

/** The calculations that standards enter: that of the factor, and that of each portion. */
const calculationsOfStandards = (run: AssayRunRow, { samples }: TitrationRecorded) => [
  inRun(run, factorName),
  ...samples.map(({ label }) => inRun(run, portionName(label))),
];

/** The raw weighings of a titration run. The curves stand in the calculations of their end points. */
export function titrationReadings(
  run: AssayRunRow,
  worksheet: TitrationRecorded,
): readonly CertifiedReading[] {
  const { entry, assayRun } = run;
  const standards = worksheet.standards.map(({ label, silver }, index) => ({
    label: `${assayRun} standard ${label}`,
    quantity: 'silver taken',
    reading: silver,
    entry,
    feeds: calculationsOfStandards(run, worksheet).map((name) =>
      figure(name, `input.standards.${index}.silverMassMilligrams`),
    ),
  }));
  const portions = worksheet.samples.map(({ label, sample }) => ({
    label: `${assayRun} ${label}`,
    quantity: 'sample',
    reading: sample,
    entry,
    feeds: [figure(inRun(run, portionName(label)), 'input.samples.0.sampleMassMilligrams')],
  }));
  return [...standards, ...portions];
}

/** Where the fineness of a titrated portion stands. */
export function titrationFineness(run: AssayRunRow, label: string): CalculationFigure {
  return figure(inRun(run, portionName(label)), 'output.determinations.0.finenessPerMille');
}

/** From the end point of a curve to where its volume enters; nothing where another point was taken. */
function volumeLinks(
  run: AssayRunRow,
  { label, titrated }: Vessel,
  targets: readonly CalculationFigure[],
): CertifiedMelt['links'] {
  if (titrated.reason !== null) return [];
  const from = figure(inRun(run, endPointName(label)), 'output.endPointMillilitres');
  return targets.map((to) => ({ from, to }));
}

/** From the widest end point to the uncertainty that stands for every volume of the run. */
function widestLinks(run: AssayRunRow, worksheet: TitrationRecorded): CertifiedMelt['links'] {
  const { standards, samples, references } = worksheet;
  const [first, ...rest]: readonly Vessel[] = [...standards, ...samples, ...references];
  if (!first) return [];
  const widest = rest.reduce(
    (most, one) =>
      one.titrated.standardUncertaintyMillilitres > most.titrated.standardUncertaintyMillilitres
        ? one
        : most,
    first,
  );
  if (widest.titrated.reason !== null) return [];
  const from = figure(
    inRun(run, endPointName(widest.label)),
    'output.standardUncertaintyMillilitres',
  );
  return calculationsOfStandards(run, worksheet).map((name) => ({
    from,
    to: figure(name, 'input.volumeStandardUncertaintyMillilitres'),
  }));
}

/** What the calculations of a titration run take from one another, figure by figure. */
export function titrationLinks(
  run: AssayRunRow,
  worksheet: TitrationRecorded,
): CertifiedMelt['links'] {
  const names = calculationsOfStandards(run, worksheet);
  const { standards, samples, reagentBlank } = worksheet;
  const blank =
    reagentBlank.kind === 'titrated'
      ? volumeLinks(
          run,
          { label: blankLabel, titrated: reagentBlank.titrated },
          names.map((name) => figure(name, 'input.blankMillilitres')),
        )
      : [];
  return [
    ...blank,
    ...standards.flatMap((one, index) =>
      volumeLinks(
        run,
        one,
        names.map((name) => figure(name, `input.standards.${index}.volumeMillilitres`)),
      ),
    ),
    ...samples.flatMap((one, index) => {
      const name = inRun(run, portionName(one.label));
      return [
        ...volumeLinks(run, one, [figure(name, 'input.samples.0.volumeMillilitres')]),
        {
          from: figure(
            inRun(run, factorName),
            `output.atTimes.${index}.factorMilligramsPerMillilitre`,
          ),
          to: figure(name, 'output.determinations.0.factorMilligramsPerMillilitre'),
        },
      ];
    }),
    ...widestLinks(run, worksheet),
  ];
}
