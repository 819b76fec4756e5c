import {
  Figure,
  LimitRule,
  PeopleNamed,
  printInstant,
  ReadingFigure,
  State,
  Table,
} from '../../../workbench/index.ts';
import type { StrikeLimits } from '../bodies.ts';
import type { StrikeRow } from '../books.ts';
import { limitsOfReading, type Measured, shownValue } from './judged-reading.tsx';
import { StrikePictures } from './strike-pictures.tsx';

/** A reading of a strike over the limit rule that it meets. */
export function StrikeReading(props: {
  readonly strike: Pick<StrikeRow, Measured>;
  readonly measured: Measured;
  readonly limits: StrikeLimits | null;
}) {
  const { measured } = props;
  const reading = props.strike[measured];
  const value = shownValue(reading);
  const limits = props.limits && limitsOfReading(props.limits, measured);
  return (
    <div className="strike-reading">
      <ReadingFigure reading={reading} />
      {limits && value !== undefined ? (
        <LimitRule
          value={value}
          lowerLimit={limits.least}
          upperLimit={limits.greatest}
          unit={limits.unit}
          decimals={limits.decimals}
          words=""
          size="row"
        />
      ) : null}
    </div>
  );
}

/** What was judged of a strike, and the defect where one was seen. */
function StrikeVerdict({ strike }: { readonly strike: StrikeRow }) {
  return (
    <>
      <State word={strike.verdict} tone={strike.verdict === 'approved' ? 'done' : 'stopped'} />
      {strike.defect ? (
        <div>
          {strike.defect.words} <span className="faint">({strike.defect.family})</span>
        </div>
      ) : null}
    </>
  );
}

/** Which strike it was, and by whom and when it was examined. */
function WhichStrike({ strike }: { readonly strike: StrikeRow }) {
  return (
    <>
      <Figure value={strike.strikeNumber} decimals={0} size="fact" /> {strike.occasion}
      <p className="faint strike-by">
        <PeopleNamed author={strike.author} />, {printInstant(strike.instant)}
      </p>
    </>
  );
}

/** The strikes of a run that were examined, newest first. */
export function StrikesTable(props: {
  readonly strikes: readonly StrikeRow[];
  readonly limits: StrikeLimits | null;
}) {
  const { limits } = props;
  const readingColumn = (measured: Measured, title: string) => ({
    key: measured,
    title,
    value: (row: StrikeRow) => shownValue(row[measured]),
    cell: (row: StrikeRow) => <StrikeReading strike={row} measured={measured} limits={limits} />,
  });
  return (
    <Table
      caption="Strikes examined"
      rows={props.strikes}
      keyOf={(row) => String(row.strikeNumber)}
      filter={false}
      order={{ column: 'strike', descending: true }}
      columns={[
        {
          key: 'strike',
          title: 'Strike',
          value: (row) => row.strikeNumber,
          cell: (row) => <WhichStrike strike={row} />,
        },
        readingColumn('mass', 'Mass'),
        readingColumn('diameter', 'Diameter'),
        readingColumn('thickness', 'Thickness'),
        {
          key: 'verdict',
          title: 'Verdict',
          value: (row) => row.verdict,
          cell: (row) => <StrikeVerdict strike={row} />,
        },
        {
          key: 'pictures',
          title: 'Pictures',
          value: (row) => row.photographs.length,
          cell: (row) => <StrikePictures strike={row} />,
        },
      ]}
    />
  );
}
