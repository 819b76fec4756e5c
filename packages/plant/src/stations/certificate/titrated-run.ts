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
    // The factor of a titre stands in the entry of its determination.
    entry: name === factorName ? (worksheet.titre?.entry ?? run.entry) : run.entry,
    calculated: calculated as NamedCalculation['calculated'],
  }));
}

const portionsOf = (run: AssayRunRow, { samples }: TitrationRecorded) =>
  samples.map(({ label }) => inRun(run, portionName(label)));

/**
 * The calculations that what a run shares enters: each portion, and the factor where the standards
 * are the run's own. The factor of a titre was computed before and takes nothing from the run.
 */
const calculationsOfRun = (run: AssayRunRow, worksheet: TitrationRecorded) => [
  ...(worksheet.titre ? [] : [inRun(run, factorName)]),
  ...portionsOf(run, worksheet),
];

/** The weighings of the standards that the factor of a titre was determined with. */
function titreReadings(
  run: AssayRunRow,
  { titre }: TitrationRecorded,
): readonly CertifiedReading[] {
  return (titre?.standards ?? []).map(({ label, silver }, index) => ({
    label: `${titre?.assayRun} standard ${label}`,
    quantity: 'silver taken',
    reading: silver,
    entry: titre?.entry ?? run.entry,
    feeds: [figure(inRun(run, factorName), `input.standards.${index}.silverMassMilligrams`)],
  }));
}

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
    feeds: calculationsOfRun(run, worksheet).map((name) =>
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
  return [...titreReadings(run, worksheet), ...standards, ...portions];
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
  return calculationsOfRun(run, worksheet).map((name) => ({
    from,
    to: figure(name, 'input.volumeStandardUncertaintyMillilitres'),
  }));
}

/** From the factor at the time of a portion to the factor that the portion was computed with. */
function ownFactorLink(run: AssayRunRow, name: string, index: number) {
  const field = `output.atTimes.${index}.factorMilligramsPerMillilitre`;
  return {
    from: figure(inRun(run, factorName), field),
    to: figure(name, 'output.determinations.0.factorMilligramsPerMillilitre'),
  };
}

/** From the determination of a titre to a portion: the factor, its uncertainty, its degrees of freedom. */
function titreLinks(run: AssayRunRow, name: string): CertifiedMelt['links'] {
  const fields = [
    ['atTimes.0.factorMilligramsPerMillilitre', 'factorMilligramsPerMillilitre'],
    [
      'atTimes.0.standardUncertaintyMilligramsPerMillilitre',
      'factorStandardUncertaintyMilligramsPerMillilitre',
    ],
    ['degreesOfFreedom', 'factorDegreesOfFreedom'],
  ] as const;
  return fields.map(([from, to]) => ({
    from: figure(inRun(run, factorName), `output.${from}`),
    to: figure(name, `input.${to}`),
  }));
}

/** What the calculations of a titration run take from one another, figure by figure. */
export function titrationLinks(
  run: AssayRunRow,
  worksheet: TitrationRecorded,
): CertifiedMelt['links'] {
  const names = calculationsOfRun(run, worksheet);
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
        ...(worksheet.titre ? titreLinks(run, name) : [ownFactorLink(run, name, index)]),
      ];
    }),
    ...widestLinks(run, worksheet),
  ];
}
