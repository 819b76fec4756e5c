import type { CalibrationLineOutput } from '@cupel/calculation';
import { useState } from 'react';
import { Chart, Part, printNumber, State, Table } from '../../../../workbench/index.ts';
import { correlationOf } from '../calibration-correlation.ts';
import type { CalibrationShown, Drift, ResultFileFigures } from '../result-bodies.ts';
import { SignalLines } from './signals-shown.tsx';

/** Calibration and drift as the file shows them: r and residuals, steps of the drift standard. */
export function CalibrationParts({ figures }: { readonly figures: ResultFileFigures }) {
  return (
    <>
      <SignalLines calibrations={figures.calibrations} />
      <Calibrations
        calibrations={figures.calibrations.filter(({ signals }) => !signals)}
        isAlone={figures.calibrations.length === 0}
      />
      <Drifts drifts={figures.drifts} />
    </>
  );
}

const outputOf = ({ line }: CalibrationShown) =>
  line ? (line.output as unknown as CalibrationLineOutput) : undefined;

function greatestResidual(one: CalibrationShown): number | undefined {
  const residuals = outputOf(one)?.points.map(({ residual }) => Math.abs(residual)) ?? [];
  return residuals.length === 0 ? undefined : Math.max(...residuals);
}

function Calibrations(props: {
  readonly calibrations: readonly CalibrationShown[];
  /** True where no line of signals stands above. */
  readonly isAlone: boolean;
}) {
  const { calibrations, isAlone } = props;
  const [shown, show] = useState<string | undefined>(undefined);
  const open = calibrations.find(({ element }) => element === shown);
  if (calibrations.length === 0 && !isAlone) return null;
  if (calibrations.length === 0) {
    return (
      <p className="faint">
        The file has no calibration standards whose contents are known with the method.
      </p>
    );
  }
  return (
    <Part title="Calibration">
      <Table
        caption="Found contents of the standards against known ones"
        rows={calibrations}
        filter={false}
        keyOf={(row) => row.element}
        columns={[
          {
            key: 'element',
            title: 'Element',
            value: (row) => row.element,
            cell: (row) =>
              row.line ? (
                <button
                  type="button"
                  className="link-button"
                  aria-expanded={row.element === shown}
                  onClick={() => show(row.element === shown ? undefined : row.element)}
                >
                  {row.element}
                </button>
              ) : (
                row.element
              ),
          },
          {
            key: 'r',
            title: 'r',
            value: (row) => (row.line ? (correlationOf(row.line) ?? undefined) : undefined),
            decimals: 6,
          },
          {
            key: 'slope',
            title: 'Slope',
            value: (row) => outputOf(row)?.coefficients[1]?.estimate,
            decimals: 4,
          },
          {
            key: 'intercept',
            title: 'Intercept',
            unit: 'mg/kg',
            value: (row) => outputOf(row)?.coefficients[0]?.estimate,
            decimals: 3,
          },
          {
            key: 'residual',
            title: 'Greatest residual',
            unit: 'mg/kg',
            value: greatestResidual,
            decimals: 3,
          },
        ]}
      />
      {calibrations
        .filter(({ line }) => line === null)
        .map(({ element, words }) => (
          <p key={element} className="faint">
            {element}: {words}
          </p>
        ))}
      {open ? <Residuals calibration={open} /> : null}
    </Part>
  );
}

/** The residuals of one line over the known contents, with the numbers behind them. */
function Residuals({ calibration }: { readonly calibration: CalibrationShown }) {
  const { element, words } = calibration;
  const points = outputOf(calibration)?.points ?? [];
  return (
    <>
      <Chart
        figures={{
          title: `Residuals of ${element}`,
          xTitle: 'Known content, mg/kg',
          yTitle: 'Found less fitted, mg/kg',
          series: [
            {
              label: 'standards',
              kind: 'points',
              x: points.map(({ content }) => content),
              y: points.map(({ residual }) => residual),
            },
          ],
          levels: [{ y: 0, label: '0' }],
        }}
      />
      <p>{words}</p>
    </>
  );
}

const driftWords = (drift: Drift) => {
  if (drift.isWithinLimit === null) return <State word="on one side only" tone="look" />;
  return drift.isWithinLimit ? 'within' : <State word="beyond" tone="look" />;
};

function Drifts({ drifts }: { readonly drifts: readonly Drift[] }) {
  if (drifts.length === 0) {
    return <p className="faint">The file has no drift standard before and after the samples.</p>;
  }
  return (
    <Part title="Drift">
      <Table
        caption="The drift standard from before the samples to after them"
        rows={drifts}
        filter={false}
        keyOf={(row) => row.element}
        columns={[
          { key: 'element', title: 'Element', value: (row) => row.element },
          {
            key: 'means',
            title: 'Read as',
            unit: 'mg/kg',
            value: (row) => row.meansMilligramsPerKilogram[0],
            cell: (row) =>
              row.meansMilligramsPerKilogram.map((mean) => printNumber(mean, 2)).join(' → '),
            isNumber: true,
          },
          {
            key: 'change',
            title: 'Greatest step',
            unit: '%',
            value: (row) => row.greatestChangePercent ?? undefined,
            decimals: 2,
          },
          {
            key: 'within',
            title: 'Limit',
            value: (row) => String(row.isWithinLimit),
            cell: driftWords,
          },
        ]}
      />
    </Part>
  );
}
