import {
  Empty,
  Facts,
  Figure,
  inWords,
  LineageStrip,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  printNumber,
  ReadingFigure,
  type ScreenProps,
  State,
  Table,
  ThingLink,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { EdgeMeasuredBody } from '../../edge/entries.ts';
import type { HardnessMeasuredBody } from '../../hardness/entries.ts';
import type { StructureExaminedBody } from '../../structure/entries.ts';
import { LineCounts } from '../../structure/screens/line-counts.tsx';
import { PictureShown } from '../../structure/screens/picture-board.tsx';
import type { ExaminationsAnswer, ShownExamination } from './examination-answer.ts';

/** One examination of a blank, with everything that its examiner read and marked. */
export function ExaminationShownPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const entry = Number(params['entry']);
  const { answer, problem } = useQuestion<ExaminationsAnswer | null>('melt-examinations', { melt });
  const title = `Examination of melt ${melt}`;
  if (answer === undefined) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const row = answer?.examinations.find((one) => one.entry === entry);
  if (!row) {
    return (
      <Page title={title}>
        <Empty what="There is no such examination." how="The page of the melt lists them." />
      </Page>
    );
  }
  return (
    <Page
      title={`${inWords(row.quality)} of ${row.blank}`}
      about={<FindingState row={row} />}
      known={<Known row={row} />}
    >
      <p>{row.words}</p>
      <Sheet row={row} />
    </Page>
  );
}

function FindingState({ row }: { readonly row: ShownExamination }) {
  if (row.setAside !== null) return row.setAside;
  if (row.finding === 'no limits') return 'recorded, held to no limits';
  const tone = row.finding === 'outside' ? 'stopped' : row.finding === 'inside' ? 'done' : 'look';
  return <State word={`${row.finding} its limits`} tone={tone} />;
}

function Known({ row }: { readonly row: ShownExamination }) {
  return (
    <>
      <Facts
        facts={[
          [
            'Melt',
            <PathLink key="melt" to={pathTo('/laboratory/melts/$melt', { melt: row.melt })}>
              {row.melt}
            </PathLink>,
          ],
          ['By', `${row.authorName}, ${printInstant(row.instant)}`],
          ['Instrument', <ThingLink key="i" thing="instrument" id={row.instrument} />],
          [
            'Entry',
            <PathLink key="entry" to={`/journal/${row.entry}`}>
              {printNumber(row.entry)}
            </PathLink>,
          ],
        ]}
      />
      <LineageStrip thing="blank" id={row.blank} />
    </>
  );
}

function Sheet({ row }: { readonly row: ShownExamination }) {
  switch (row.quality) {
    case 'hardness':
      return <HardnessSheet body={row.body as unknown as HardnessMeasuredBody} />;
    case 'grain size':
      return <StructureSheet body={row.body as unknown as StructureExaminedBody} />;
    case 'edge':
      return <EdgeSheet body={row.body as unknown as EdgeMeasuredBody} />;
  }
}

interface IndentationFound {
  readonly label: string;
  readonly hardness: number;
}

function HardnessSheet({ body }: { readonly body: HardnessMeasuredBody }) {
  const found = body.vickers.output['indentations'] as unknown as readonly IndentationFound[];
  return (
    <Table
      caption="Indentations"
      rows={body.indentations}
      filter={false}
      keyOf={(row) => row.label}
      columns={[
        { key: 'label', title: 'Indentation', value: (row) => row.label },
        {
          key: 'first',
          title: 'First diagonal',
          value: (row) => Number(row.first.text),
          cell: (row) => <ReadingFigure reading={row.first} />,
          isNumber: true,
        },
        {
          key: 'second',
          title: 'Second diagonal',
          value: (row) => Number(row.second.text),
          cell: (row) => <ReadingFigure reading={row.second} />,
          isNumber: true,
        },
        {
          key: 'hardness',
          title: 'Hardness',
          unit: 'HV',
          value: (row) => found.find(({ label }) => label === row.label)?.hardness,
          decimals: 1,
        },
      ]}
    />
  );
}

function StructureSheet({ body }: { readonly body: StructureExaminedBody }) {
  const { scale } = body;
  return (
    <>
      <PictureShown
        picture={{
          sha256: body.photographSha256,
          words: `Photograph of the section of ${body.blank}`,
          size: body.picture,
          bar: scale.kind === 'bar' ? scale.bar : null,
          lines: body.lines,
        }}
      />
      <p className="faint">
        A pixel is <Figure value={body.micrometresPerPixel} unit="µm" />
        {scale.kind === 'bar'
          ? `, by the scale bar of ${printNumber(scale.lengthMicrometres)} µm.`
          : ', as stated.'}
        {body.preparation ? ` ${body.preparation}.` : ''}
      </p>
      <LineCounts lines={body.lines} scale={scale} />
    </>
  );
}

function EdgeSheet({ body }: { readonly body: EdgeMeasuredBody }) {
  const limit = (value: number | null) => (value === null ? 'none' : printNumber(value));
  return (
    <Part title={`Limits of ${body.limitsSetBy}`}>
      {body.dimensions.map((one) => (
        <div key={one.label}>
          <h3>{one.label}</h3>
          <p>
            {one.readings.map((reading, index) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: a record never changes
              <span key={index}>
                {index > 0 ? ' · ' : null}
                <ReadingFigure reading={reading} />
              </span>
            ))}
          </p>
          <p className="faint">
            Least {limit(one.leastMillimetres)}, greatest {limit(one.greatestMillimetres)} mm.
          </p>
        </div>
      ))}
    </Part>
  );
}
