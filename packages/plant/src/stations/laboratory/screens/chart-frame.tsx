import type { ReactNode } from 'react';
import {
  Drawings,
  Facts,
  Figure,
  Page,
  Part,
  PathLink,
  printInstant,
  printNumber,
  State,
  ThingLink,
} from '../../../workbench/index.ts';
import type { ChartAnswer } from './chart-answer.ts';
import { ChartPointTable } from './chart-point-table.tsx';

/** The page of a chart around what is done about its signals. */
export function ChartFrame(props: {
  readonly answer: ChartAnswer;
  readonly act?: ReactNode;
  readonly children?: ReactNode;
}) {
  const { answer } = props;
  return (
    <Page
      title={answer.of ? answer.title : `${answer.title}, ${answer.pieceStandardTitle}`}
      about={answer.meaning}
      act={props.act}
      known={<Known answer={answer} />}
    >
      <Signals answer={answer} />
      {props.children}
      {answer.reading.state === 'judged' ? (
        <Drawings drawings={answer.reading.drawings} />
      ) : (
        <p>{answer.reading.words}</p>
      )}
      <ChartPointTable answer={answer} />
    </Page>
  );
}

function Signals({ answer }: { readonly answer: ChartAnswer }) {
  const { open, reading } = answer;
  const isProvisional = reading.state === 'judged' && reading.limits.isProvisional;
  return (
    <div className="chart-signals">
      {open.length === 0 ? <p>No signal waits for an answer.</p> : null}
      {open.map((signal) => (
        <p key={`${signal.rule} ${signal.points.join()}`} className="still-missing">
          <State word={signal.words} tone="look" />
        </p>
      ))}
      {isProvisional ? (
        <p className="faint">
          The limits are provisional: they rest on {printNumber(reading.limits.points)} points. From
          20 points on they are set, and the run rules and the weighted average judge too.
        </p>
      ) : null}
    </div>
  );
}

function Known({ answer }: { readonly answer: ChartAnswer }) {
  const { reading } = answer;
  const figure = (value: number) => <Figure value={value} decimals={3} unit={answer.unit} />;
  const limits: readonly [string, ReactNode][] =
    reading.state === 'judged'
      ? [
          ['Upper limit', figure(reading.limits.upperLimit)],
          ['Centre line', figure(reading.limits.centreLine)],
          ['Lower limit', figure(reading.limits.lowerLimit)],
          [
            reading.limits.isProvisional ? 'Provisional limits from' : 'Limits set from',
            `${printNumber(reading.limits.points)} points, the last of them ${printNumber(reading.limits.through)}`,
          ],
          ['Calculated by', reading.calculations.join(', ')],
        ]
      : [];
  return (
    <>
      <Facts
        facts={[
          ...(answer.of
            ? []
            : ([
                [
                  'Piece standard',
                  <ThingLink key="standard" thing="piece-standard" id={answer.pieceStandard} />,
                ],
              ] as const)),
          ['Points', printNumber(answer.points)],
          ...(answer.judgedFrom > 1
            ? ([['Judged from point', printNumber(answer.judgedFrom)]] as const)
            : []),
          ...limits,
        ]}
      />
      <Answers answer={answer} />
      <p>
        <PathLink to="/laboratory/charts">All control charts</PathLink>
      </p>
    </>
  );
}

function Answers({ answer }: { readonly answer: ChartAnswer }) {
  if (answer.answers.length === 0) return null;
  return (
    <Part title="Answered">
      <ol className="plain-list">
        {answer.answers.toReversed().map((row) => (
          <li key={row.entry}>
            <PathLink to={`/journal/${row.entry}`}>{row.finding}</PathLink>,{' '}
            {printInstant(row.instant)}
            <p>{row.reason}</p>
            {row.signals.map((signal) => (
              <p key={signal.words} className="faint">
                {signal.words}
              </p>
            ))}
          </li>
        ))}
      </ol>
    </Part>
  );
}
