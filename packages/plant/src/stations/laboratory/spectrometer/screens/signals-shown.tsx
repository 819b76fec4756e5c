import {
  type ContentsFromSignalsInput,
  type ContentsFromSignalsOutput,
  contentsFromSignalsCalculation,
} from '@cupel/calculation';
import { useMemo, useState } from 'react';
import type { Calculated } from '../../../../journal/calculated.ts';
import { type Drawing, Drawings, Part, PathLink, Table } from '../../../../workbench/index.ts';
import type { CalibrationShown } from '../result-bodies.ts';

interface SignalLine {
  readonly element: string;
  readonly words: string;
  readonly input: ContentsFromSignalsInput;
  readonly output: ContentsFromSignalsOutput;
}

const lineOf = (element: string, words: string, signals: Calculated): SignalLine => ({
  element,
  words,
  input: signals.input as unknown as ContentsFromSignalsInput,
  output: signals.output as unknown as ContentsFromSignalsOutput,
});

/** The calibration lines that signals were read by, each with its drift; one is opened to be seen. */
export function SignalLines(props: { readonly calibrations: readonly CalibrationShown[] }) {
  const lines = props.calibrations.flatMap(({ element, words, signals }) =>
    signals ? [lineOf(element, words, signals)] : [],
  );
  const [shown, show] = useState<string | undefined>(lines[0]?.element);
  const open = lines.find(({ element }) => element === shown);
  if (lines.length === 0) return null;
  return (
    <Part
      title="Calibration lines"
      aside={
        <PathLink to={`/calculations/${contentsFromSignalsCalculation.id}`}>
          How contents follow from signals
        </PathLink>
      }
    >
      <Table
        caption="Signals of the standards against their known contents"
        rows={lines}
        filter={false}
        keyOf={(row) => row.element}
        columns={[
          {
            key: 'element',
            title: 'Element',
            value: (row) => row.element,
            cell: ({ element }) => (
              <button
                type="button"
                className="link-button"
                aria-expanded={element === shown}
                onClick={() => show(element === shown ? undefined : element)}
              >
                {element}
              </button>
            ),
          },
          {
            key: 'r',
            title: 'r',
            value: ({ output }) => output.line.correlation ?? undefined,
            decimals: 6,
          },
          {
            key: 'slope',
            title: 'Slope',
            unit: 'counts/s per mg/kg',
            value: ({ output }) => output.line.slope,
            isNumber: true,
          },
          {
            key: 'intercept',
            title: 'At no content',
            unit: 'counts/s',
            value: ({ output }) => output.line.intercept,
            isNumber: true,
          },
          {
            key: 'drift',
            title: 'Sensitivity at the end',
            unit: '%',
            value: ({ output }) => driftPercent(output),
            decimals: 2,
          },
        ]}
      />
      {open ? <LineShown line={open} /> : null}
    </Part>
  );
}

/** Of that of the calibration; nothing where no drift is taken off. */
function driftPercent({ drift }: ContentsFromSignalsOutput): number | undefined {
  const last = drift.at(-1);
  return last && 100 * last.factor;
}

function LineShown({ line }: { readonly line: SignalLine }) {
  const { input, output, words } = line;
  const drawings = useMemo(
    () => (contentsFromSignalsCalculation.draw?.(input, output) ?? []) as readonly Drawing[],
    [input, output],
  );
  return (
    <>
      <p>{words}</p>
      <Drawings drawings={drawings} />
    </>
  );
}
