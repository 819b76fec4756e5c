import type { Calculated } from '../../../journal/calculated.ts';
import type { Reading } from '../../../journal/reading.ts';
import {
  Empty,
  Facts,
  LineageStrip,
  MainAct,
  Mass,
  Page,
  PaperLink,
  Part,
  PathLink,
  Pending,
  PeopleNamed,
  printInstant,
  ReadingFigure,
  type ScreenProps,
  State,
  Table,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
  useQuestion,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import { type CountFigures, CountShown } from './count-figures.tsx';

interface Weighing {
  readonly entry: number;
  readonly filling: number;
  readonly instant: string;
  readonly author: string;
  readonly instrument: string;
  readonly gross: Reading;
  readonly tareMicrograms: number;
  readonly netMicrograms: number;
  readonly count: Calculated;
  readonly state: string;
}

interface TubeAnswer {
  readonly tube: {
    readonly tube: string;
    readonly state: string;
    readonly melt: string;
    readonly pieces: number;
    readonly words: string;
    readonly box: string | null;
  } | null;
  readonly title: string | null;
  readonly weighings: readonly Weighing[];
  readonly openings: readonly {
    readonly entry: number;
    readonly instant: string;
    readonly author: string;
    readonly witness: string | null;
    readonly piecesBooked: number;
    readonly piecesFound: number;
  }[];
}

const tones = { stopped: 'stopped', 'weigh again': 'look', proved: 'done' } as const;

/** One tube: what its weighings say, and the act that comes next. */
export function TubePage({ params }: ScreenProps) {
  const tube = params['tube'] ?? '';
  const { answer, problem } = useQuestion<TubeAnswer>('tube', { tube });
  const [draft, change, clear] = useDraft(`open tube ${tube}`, { found: '' });
  const open = useCommand('open-tube', { onRecorded: clear });
  if (!answer) {
    return (
      <Page title={`Tube ${tube}`}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const row = answer.tube;
  if (!row) {
    return (
      <Page title={`Tube ${tube}`}>
        <Empty
          what="This tube has never been weighed."
          how={<PathLink to="/put-up/weigh">Weigh it.</PathLink>}
        />
      </Page>
    );
  }
  const isClosed = row.state !== 'open' && row.state !== 'packed';
  const last = answer.weighings.at(-1);
  return (
    <Page
      title={`Tube ${tube}`}
      about={
        <>
          <State word={row.state} tone={tones[row.state as keyof typeof tones] ?? 'plain'} />{' '}
          {answer.title}, {row.pieces} pieces booked
        </>
      }
      known={
        <>
          <Facts
            facts={[
              ['Melt', <ThingLink key="melt" thing="melt" id={row.melt} />],
              ['Box', row.box ? <ThingLink key="box" thing="box" id={row.box} /> : 'none yet'],
              [
                'Receipt',
                <PaperLink key="paper" paper="tube-receipt" id={tube}>
                  print
                </PaperLink>,
              ],
            ]}
          />
          <LineageStrip thing="tube" id={tube} />
        </>
      }
      act={
        isClosed ? (
          <MainAct
            label="Open tube"
            command={open}
            input={() => ({ tube, piecesFound: wholeNumberOf(draft.found) })}
            notYet={
              draft.found === ''
                ? 'Count what is in the tube, together with a second person.'
                : undefined
            }
          />
        ) : undefined
      }
    >
      {row.state === 'weigh again' ? (
        <p>
          {row.words} <PathLink to="/put-up/weigh">Weigh it again.</PathLink>
        </p>
      ) : null}
      {last ? (
        <CountShown
          count={last.count.output as unknown as CountFigures}
          netGrams={last.netMicrograms / 1e6}
        />
      ) : null}
      {isClosed ? (
        <Part title="Open and count">
          <TextField
            label="Pieces found"
            kind="whole number"
            unit="pieces"
            value={draft.found}
            onChange={(found) => change({ found })}
            refusal={open.refusalAt('piecesFound')}
          />
        </Part>
      ) : null}
      <Weighings answer={answer} />
      <Openings answer={answer} />
    </Page>
  );
}

function Weighings({ answer }: { readonly answer: TubeAnswer }) {
  return (
    <Part title="Weighings">
      <Table
        caption="Weighings of this tube"
        rows={answer.weighings}
        keyOf={(row) => String(row.entry)}
        columns={[
          {
            key: 'instant',
            title: 'When',
            value: (row) => row.instant,
            cell: (row) => printInstant(row.instant),
          },
          {
            key: 'gross',
            title: 'Gross',
            value: (row) => Number(row.gross.text),
            cell: (row) => <ReadingFigure reading={row.gross} />,
            isNumber: true,
          },
          {
            key: 'tare',
            title: 'Tare',
            unit: 'g',
            value: (row) => row.tareMicrograms,
            cell: (row) => <Mass micrograms={row.tareMicrograms} />,
            isNumber: true,
          },
          {
            key: 'net',
            title: 'Net',
            unit: 'g',
            value: (row) => row.netMicrograms,
            cell: (row) => <Mass micrograms={row.netMicrograms} />,
            isNumber: true,
          },
          { key: 'balance', title: 'Balance', value: (row) => row.instrument },
          {
            key: 'by',
            title: 'By',
            value: (row) => row.author,
            cell: (row) => <PeopleNamed author={row.author} />,
          },
          { key: 'state', title: 'Says', value: (row) => row.state },
        ]}
      />
    </Part>
  );
}

function Openings({ answer }: { readonly answer: TubeAnswer }) {
  if (answer.openings.length === 0) return null;
  return (
    <Part title="Openings">
      <Table
        caption="Openings of this tube"
        rows={answer.openings}
        keyOf={(row) => String(row.entry)}
        columns={[
          {
            key: 'instant',
            title: 'When',
            value: (row) => row.instant,
            cell: (row) => printInstant(row.instant),
          },
          {
            key: 'booked',
            title: 'Booked',
            unit: 'pieces',
            value: (row) => row.piecesBooked,
            decimals: 0,
          },
          {
            key: 'found',
            title: 'Found',
            unit: 'pieces',
            value: (row) => row.piecesFound,
            decimals: 0,
          },
          {
            key: 'by',
            title: 'By',
            value: (row) => row.author,
            cell: (row) => <PeopleNamed author={row.author} witness={row.witness} />,
          },
        ]}
      />
    </Part>
  );
}
