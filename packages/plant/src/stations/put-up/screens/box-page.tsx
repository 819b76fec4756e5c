import type { Reading } from '../../../journal/reading.ts';
import {
  Empty,
  Facts,
  Figure,
  LimitRule,
  LineageStrip,
  Mass,
  Page,
  PaperLink,
  Part,
  PathLink,
  Pending,
  PeopleNamed,
  pathTo,
  printInstant,
  ReadingFigure,
  type ScreenProps,
  Table,
  ThingLink,
  useQuestion,
} from '../../../workbench/index.ts';
import type { BoxCheck, TubeInBox } from '../bodies.ts';

interface BoxAnswer {
  readonly box: {
    readonly box: string;
    readonly entry: number;
    readonly instant: string;
    readonly author: string;
    readonly witness: string | null;
    readonly seal: string;
    readonly pieces: number;
    readonly netMicrograms: number;
    readonly fineMicrograms: number;
    readonly gross: Reading;
    readonly tareMicrograms: number;
    readonly tubes: readonly TubeInBox[];
    readonly check: BoxCheck;
  } | null;
  readonly title: string | null;
}

/** One sealed box: its tubes, its weight against them, its label. */
export function BoxPage({ params }: ScreenProps) {
  const name = params['box'] ?? '';
  const { answer, problem } = useQuestion<BoxAnswer>('box', { box: name });
  if (!answer) {
    return (
      <Page title={`Box ${name}`}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const { box, title } = answer;
  if (!box) {
    return (
      <Page title={`Box ${name}`}>
        <Empty
          what="No box of this name is sealed."
          how={<PathLink to="/put-up/pack">Pack it.</PathLink>}
        />
      </Page>
    );
  }
  const { input, output } = box.check;
  return (
    <Page
      title={`Box ${name}`}
      about={
        <>
          {title}, sealed {printInstant(box.instant)} by{' '}
          <PeopleNamed author={box.author} witness={box.witness} />
        </>
      }
      known={
        <>
          <Facts
            facts={[
              ['Seal', <ThingLink key="seal" thing="seal" id={box.seal} />],
              ['Gross', <ReadingFigure key="gross" reading={box.gross} />],
              ['Tare', <Mass key="tare" micrograms={box.tareMicrograms} />],
              [
                'Label',
                <PaperLink key="label" paper="box-label" id={name}>
                  print
                </PaperLink>,
              ],
            ]}
          />
          <LineageStrip thing="box" id={name} />
        </>
      }
    >
      <p className="figure-line">
        <Figure value={box.pieces} decimals={0} unit="pieces" size="result" />{' '}
        <Mass micrograms={box.netMicrograms} size="result" />
      </p>
      <Part title="Box against its tubes">
        <LimitRule
          value={output.differenceGrams}
          expandedUncertainty={2 * output.standardUncertaintyGrams}
          lowerLimit={-input.pieceMassGrams / 2}
          upperLimit={input.pieceMassGrams / 2}
          unit="g"
          decimals={2}
          words="What left or entered since the tubes were weighed; half a piece is the limit. It is no second proof of their counts."
        />
      </Part>
      <Part title="Tubes">
        <Table
          caption="Tubes of this box"
          rows={box.tubes}
          keyOf={(row) => row.tube}
          columns={[
            {
              key: 'tube',
              title: 'Tube',
              value: (row) => row.tube,
              cell: (row) => (
                <PathLink to={pathTo('/put-up/tubes/$tube', { tube: row.tube })}>
                  {row.tube}
                </PathLink>
              ),
            },
            {
              key: 'melt',
              title: 'Melt',
              value: (row) => row.melt,
              cell: (row) => <ThingLink thing="melt" id={row.melt} />,
            },
            {
              key: 'pieces',
              title: 'Pieces',
              value: (row) => row.pieces,
              decimals: 0,
              sum: (rows) => rows.reduce((sum, row) => sum + row.pieces, 0),
            },
            {
              key: 'net',
              title: 'Net',
              unit: 'g',
              value: (row) => row.netMicrograms / 1e6,
              decimals: 2,
              sum: (rows) => rows.reduce((sum, row) => sum + row.netMicrograms, 0) / 1e6,
            },
            { key: 'runs', title: 'Runs', value: (row) => row.runs.join(', ') },
          ]}
        />
      </Part>
    </Page>
  );
}
