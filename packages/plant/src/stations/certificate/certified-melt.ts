import { invariant } from '../../journal/fault.ts';
import type { AssayRunRow, BlankRow, MeltResult, Recorded } from '../laboratory/index.ts';
import { decisionOf } from './certified-decision.ts';
import { samplingOf } from './certified-sampling.ts';
import type {
  CalculationFigure,
  CertifiedDetermination,
  CertifiedMelt,
  CertifiedReading,
  MeasuredBlank,
  NamedCalculation,
} from './content.ts';
import type { IssueFacts, MeltFacts } from './issue-facts.ts';
import { meltUncertaintyName } from './recompute.ts';
import { signalCalculations, signalLinks, signalReadings } from './spectrometer-run.ts';
import { methodDescription } from './statements.ts';
import {
  titrationCalculations,
  titrationFineness,
  titrationLinks,
  titrationReadings,
} from './titrated-run.ts';

/** Name under which a certificate keeps the check against the impurity table. */
const impuritiesName = 'impurities';

const figure = (calculation: string, field: string): CalculationFigure => ({ calculation, field });

/** A calculation as a certificate holds it: the same values, in the types of the certificate. */
export const certifiedCalculation = (calculated: object): NamedCalculation['calculated'] =>
  calculated as NamedCalculation['calculated'];

const runName = (run: AssayRunRow): string => `cupellation ${run.assayRun}`;
const solutionName = (run: AssayRunRow, label: string): string =>
  `difference ${run.assayRun} ${label}`;

function calculationsOfRun(run: AssayRunRow): readonly NamedCalculation[] {
  const { worksheet, entry } = run;
  if ('cupellation' in worksheet) {
    return [{ name: runName(run), entry, calculated: certifiedCalculation(worksheet.cupellation) }];
  }
  if ('solutions' in worksheet) {
    return worksheet.solutions.map(({ label, difference }) => ({
      name: solutionName(run, label),
      entry,
      calculated: certifiedCalculation(difference),
    }));
  }
  return titrationCalculations(run, worksheet);
}

/** The raw readings of a cupellation run, each with the field that it enters. */
function readingsOfRun(run: AssayRunRow): readonly CertifiedReading[] {
  const { worksheet, entry } = run;
  if ('factor' in worksheet) return titrationReadings(run, worksheet);
  if (!('cupellation' in worksheet)) return [];
  const reading = (
    label: string,
    quantity: string,
    sent: CertifiedReading['reading'],
    field: string,
  ): CertifiedReading => ({
    label,
    quantity,
    reading: sent,
    entry,
    feeds: [figure(runName(run), `input.${field}`)],
  });
  return [
    ...worksheet.proofs.flatMap(({ label, goldTaken, cornet }, index) => {
      const [name, at] = [`${run.assayRun} proof ${label}`, `proofs.${index}`];
      return [
        reading(name, 'gold taken', goldTaken, `${at}.goldTakenMilligrams`),
        reading(name, 'cornet', cornet, `${at}.cornetMassMilligrams`),
      ];
    }),
    ...worksheet.samples.flatMap(({ label, sample, cornet }, index) => {
      const [name, at] = [`${run.assayRun} ${label}`, `samples.${index}`];
      return [
        reading(name, 'sample', sample, `${at}.sampleMassMilligrams`),
        reading(name, 'cornet', cornet, `${at}.cornetMassMilligrams`),
      ];
    }),
  ];
}

/** Where the fineness of a determination stands in the calculation of its run. */
function figureOf(
  runs: readonly AssayRunRow[],
  assayRun: string,
  label: string,
): CalculationFigure {
  const run = runs.find((one) => one.assayRun === assayRun);
  invariant(run, `run ${assayRun} of a determination is missing`);
  const { worksheet } = run;
  if ('factor' in worksheet) return titrationFineness(run, label);
  if (!('cupellation' in worksheet)) {
    return figure(solutionName(run, label), 'output.finenessPerMille');
  }
  const index = worksheet.samples.findIndex((sample) => sample.label === label);
  return figure(runName(run), `output.determinations.${index}.finenessPerMille`);
}

function determinationsOf(result: MeltResult): readonly CertifiedDetermination[] {
  const voidReasons = new Map(result.runs.map((run) => [run.assayRun, run.voidReason]));
  return result.determinations.map((row) => ({
    label: `${row.assayRun} ${row.label}`,
    run: row.assayRun,
    blank: row.blank,
    finenessPerMille: row.finenessPerMille,
    from: figureOf(result.runs, row.assayRun, row.label),
    state: row.state,
    reason:
      row.discarded?.reason ??
      (row.state === 'void' ? (voidReasons.get(row.assayRun) ?? '') : null),
  }));
}

/** What the result takes from its determinations, figure by figure. */
function linksOf(result: MeltResult): CertifiedMelt['links'] {
  const ofRuns = result.runs.flatMap((run) =>
    'factor' in run.worksheet
      ? titrationLinks(run, run.worksheet)
      : signalLinks(run, result.files, (label) => solutionName(run, label)),
  );
  const ofResult = result.result.body.determinations.flatMap(({ assayRun, label }, index) => {
    const from = figureOf(result.runs, assayRun, label);
    const at = `input.determinations.${index}`;
    const own =
      from.field === 'output.finenessPerMille'
        ? [
            {
              from: figure(from.calculation, 'output.standardUncertaintyPerMille'),
              to: figure('uncertainty', `${at}.methodStandardUncertaintyPerMille`),
            },
          ]
        : [];
    return [
      { from, to: figure('replicates', `input.resultsPerMille.${index}`) },
      { from, to: figure('uncertainty', `${at}.finenessPerMille`) },
      ...own,
    ];
  });
  return [...ofRuns, ...ofResult];
}

function resultCalculations(result: MeltResult): readonly NamedCalculation[] {
  const { result: entry, body } = result.result;
  const { version, input, output } = body.uncertainty;
  return [
    { name: 'replicates', entry, calculated: certifiedCalculation(body.replicates) },
    {
      name: 'uncertainty',
      entry,
      calculated: certifiedCalculation({
        calculation: meltUncertaintyName,
        version,
        input,
        output,
      }),
    },
    { name: 'verdict', entry, calculated: certifiedCalculation(body.decision) },
    ...(body.impurities
      ? [{ name: impuritiesName, entry, calculated: certifiedCalculation(body.impurities) }]
      : []),
  ];
}

function measuredBlank({ measurement }: BlankRow): MeasuredBlank {
  const { blank, forPhysical, mass, diameter, thickness, entry, faults } = measurement;
  return { blank, forPhysical, mass, diameter, thickness, entry, conforms: faults.length === 0 };
}

function physicalOf(melt: MeltFacts, result: MeltResult): CertifiedMelt['physical'] {
  const physical = melt.ruling?.physical;
  invariant(physical, `melt ${melt.melt} is certified without a ruling`);
  return {
    blanksForPhysical: physical.blanksForPhysical,
    blanksNonconforming: physical.blanksNonconforming,
    acceptanceNumber: physical.acceptanceNumber,
    state: physical.state,
    blanks: result.blanks.map(measuredBlank),
  };
}

/** How the impurities of a melt lie to the table of its piece standard. */
function impuritiesOf({ result }: MeltResult): Pick<CertifiedMelt, 'impurities'> {
  const { impurities } = result.body;
  if (!impurities) return {};
  return {
    impurities: {
      state: String(impurities.output['state']),
      words: String(impurities.output['words']),
      calculation: impuritiesName,
    },
  };
}

/** What a certificate says of a melt. The rule has checked that result and ruling stand. */
export function certifiedMelt(melt: MeltFacts, facts: IssueFacts): CertifiedMelt {
  const { row, consignment, result, ruling } = melt;
  invariant(
    row && consignment && result?.result.checked && ruling,
    `melt ${melt.melt} is not certifiable`,
  );
  invariant(
    ruling.ruling === 'release' || ruling.ruling === 'concession',
    `melt ${melt.melt} is not released`,
  );
  const { body } = result.result;
  const act = ({ entry, instant, author }: Recorded) => ({
    entry,
    instant,
    by: { person: author, name: facts.names.get(author) ?? author },
  });
  const { result: entry, instant, signer: author, checked } = result.result;
  const runInstants = result.runs.map((run) => run.instant).sort();
  return {
    melt: melt.melt,
    consignment: row.consignment,
    supplier: melt.supplierName,
    received: consignment.seedAt ?? consignment.announcedAt,
    pieces: row.pieces,
    method: {
      name: body.method,
      description: methodDescription(body.method, consignment.metal),
      began: runInstants[0] ?? instant,
      ended: instant,
    },
    sampling: samplingOf(melt),
    physical: physicalOf(melt, result),
    readings: [...result.runs.flatMap(readingsOfRun), ...signalReadings(result.files)],
    calculations: [
      ...signalCalculations(result.files),
      ...result.runs.flatMap(calculationsOfRun),
      ...resultCalculations(result),
    ],
    links: linksOf(result),
    determinations: [...determinationsOf(result)],
    result: {
      finenessPerMille: body.finenessPerMille,
      finenessFrom: figure('replicates', 'output.finalResultPerMille'),
      standardUncertaintyPerMille: body.standardUncertaintyPerMille,
      standardUncertaintyFrom: figure('uncertainty', 'output.standardUncertaintyPerMille'),
      degreesOfFreedom: body.degreesOfFreedom,
    },
    decision: decisionOf(result),
    ...impuritiesOf(result),
    ruling: { ruling: ruling.ruling, reason: ruling.reason, act: act(ruling) },
    signed: act({ entry, instant, author }),
    checked: act(checked),
  };
}
