import {
  Drawings,
  Empty,
  Facts,
  MainAct,
  Metal,
  Page,
  Part,
  PathLink,
  Pending,
  printInstant,
  printNumber,
  type ScreenProps,
  State,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import { placeTitle } from './desk-answer.ts';
import { Blame, Closes, Limits, type ShownSeries } from './history-tables.tsx';

interface HistoryAnswer {
  readonly place: string;
  readonly pieceStandard: string;
  readonly metal: string;
  readonly seesBook: boolean;
  readonly series: ShownSeries | null;
}

/** The differences of one place and piece standard, close after close. */
export function HistoryPage({ params }: ScreenProps) {
  const place = params['place'] ?? '';
  const pieceStandard = params['standard'] ?? '';
  const { answer, problem } = useQuestion<HistoryAnswer>('difference-history', {
    place,
    pieceStandard,
  });
  const title = `${placeTitle(place)}: grams over many shifts`;
  if (!answer) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (!answer.series) {
    return (
      <Page title={title} about={<About answer={answer} />}>
        <Empty
          what={
            answer.seesBook
              ? 'There are no two weighed balances yet.'
              : 'This is shown to the metal accountant, the chief assayer and the auditor.'
          }
          how={
            answer.seesBook
              ? 'Each close of a shift whose tally was weighed on a registered balance adds one.'
              : 'Those who count do not see the book, so that they count.'
          }
        />
      </Page>
    );
  }
  return <History key={`${place} ${pieceStandard}`} answer={answer} series={answer.series} />;
}

const About = ({ answer }: { readonly answer: HistoryAnswer }) => (
  <>
    {answer.pieceStandard} <Metal metal={answer.metal} />
  </>
);

function History(props: { readonly answer: HistoryAnswer; readonly series: ShownSeries }) {
  const { answer, series } = props;
  const { place, pieceStandard } = answer;
  const [draft, change, clear] = useDraft(`drift ${place} ${pieceStandard}`, { finding: '' });
  const resolve = useCommand('resolve-drift', { onRecorded: clear });
  const isHere = series.signal !== null && resolve.description?.allowed !== false;
  return (
    <Page
      title={`${placeTitle(place)}: grams over many shifts`}
      about={
        <>
          <State
            word={series.signal ? 'drifts' : 'holds'}
            tone={series.signal ? 'look' : 'plain'}
          />{' '}
          · <About answer={answer} />
        </>
      }
      known={<Known series={series} />}
      act={
        isHere || resolve.stage === 'recorded' ? (
          <MainAct
            label="Answer drift"
            command={resolve}
            notYet={
              !series.signal
                ? 'It is answered.'
                : draft.finding.trim() === ''
                  ? 'Say what was found.'
                  : undefined
            }
            input={() => ({ place, pieceStandard, finding: draft.finding })}
          />
        ) : undefined
      }
    >
      <p>{series.words}</p>
      <Part title="Residuals and their sums">
        <Drawings drawings={series.drawings} />
      </Part>
      <Part title="Limits">
        <Limits series={series} />
      </Part>
      <Part title="Sources of the newest difference">
        <Blame rows={series.newest} />
      </Part>
      {isHere ? (
        <Part title="Answer the drift">
          <p>
            A steady loss and a calibration that is off look alike. Check the balance with weights
            and weigh the stock again before anything else.
          </p>
          <TextField
            label="What was found"
            kind="long"
            value={draft.finding}
            onChange={(finding) => change({ finding })}
            hint="What was weighed again or recalibrated, and where the grams went."
            refusal={resolve.refusalAt('finding') ?? resolve.refusalAt('pieceStandard')}
          />
        </Part>
      ) : null}
      <Part title="Close after close">
        <Closes series={series} />
      </Part>
    </Page>
  );
}

function Known({ series }: { readonly series: ShownSeries }) {
  const { resolved, inControlRunLengthPeriods: quiet, shiftedRunLengthPeriods: fast } = series;
  return (
    <Facts
      facts={[
        ['Closes looked at', printNumber(series.periods.length)],
        [
          "Page's test",
          `k ${printNumber(series.referenceValue, 1)}, h ${printNumber(series.decisionInterval, 1)}`,
        ],
        ['False alarm', quiet === null ? 'hardly ever' : `once in ${printNumber(quiet, 0)} closes`],
        [
          'A shift of 2k is found',
          fast === null ? '–' : `after ${printNumber(fast, 1)} closes on average`,
        ],
        [
          'Steady loss',
          `${printNumber(series.steadyLossGrams, 3)} ± ${printNumber(series.steadyLossStandardUncertaintyGrams, 3)} g a close`,
        ],
        ['Such residuals by chance', printNumber(series.quadraticProbability, 3)],
        ...(resolved
          ? [
              [
                'Answered last',
                <span key="resolved">
                  <PathLink to={`/journal/${resolved.entry}`}>
                    entry {printNumber(resolved.entry)}
                  </PathLink>
                  , {printInstant(resolved.instant)}: {resolved.finding}
                </span>,
              ] as const,
            ]
          : []),
      ]}
    />
  );
}
