import { PathLink, printNumber, Table, ThingLink } from '../../../../workbench/index.ts';
import type { DifferenceFigures } from '../bodies.ts';
import { causesInWords } from '../words.ts';
import { plus } from './signed.ts';

const grams = (micrograms: number | null): string =>
  micrograms === null ? '–' : printNumber(micrograms / 1e6, 1);

/** Drums and melts as announced and as found, with what shows it. */
export function DifferenceLines(props: {
  readonly caption: string;
  readonly lines: readonly DifferenceFigures[];
}) {
  const { caption, lines } = props;
  return (
    <Table
      caption={caption}
      rows={lines}
      keyOf={(row) => `${row.thing} ${row.id}`}
      columns={[
        {
          key: 'id',
          title: 'Drum or melt',
          value: (row) => row.id,
          cell: (row) => (
            <>
              <ThingLink thing={row.thing} id={row.id} />
              {row.thing === 'melt' ? <span className="faint"> melt</span> : null}
            </>
          ),
        },
        {
          key: 'causes',
          title: 'Differs in',
          value: (row) => causesInWords(row.causes),
          cell: (row) => <Causes line={row} />,
        },
        { key: 'announced', title: 'Announced', value: (row) => row.piecesAnnounced, decimals: 0 },
        { key: 'found', title: 'Found', value: (row) => row.piecesFound, decimals: 0 },
        {
          key: 'pieces',
          title: 'Difference',
          value: (row) => row.differencePieces,
          cell: (row) => plus(row.differencePieces, 0),
          isNumber: true,
          sum: (rows) =>
            plus(
              rows.reduce((sum, row) => sum + row.differencePieces, 0),
              0,
            ),
        },
        {
          key: 'net',
          title: 'Net announced',
          unit: 'g',
          value: (row) => row.netAnnouncedMicrograms,
          cell: (row) => grams(row.netAnnouncedMicrograms),
          isNumber: true,
        },
        {
          key: 'mass',
          title: 'Difference',
          unit: 'g',
          value: (row) => row.differenceMicrograms,
          cell: (row) => <MassDifference line={row} />,
          isNumber: true,
          sum: (rows) =>
            plus(rows.reduce((sum, row) => sum + (row.differenceMicrograms ?? 0), 0) / 1e6, 1),
        },
        {
          key: 'evidence',
          title: 'Shown by',
          value: (row) => row.evidence[0] ?? null,
          cell: (row) =>
            row.evidence.map((entry, index) => (
              <span key={entry}>
                {index > 0 ? ', ' : ''}
                <PathLink to={`/journal/${entry}`}>{printNumber(entry)}</PathLink>
              </span>
            )),
        },
      ]}
    />
  );
}

function Causes({ line }: { readonly line: DifferenceFigures }) {
  const { causes, sealDocumented, sealFound } = line;
  return (
    <>
      {causesInWords(causes)}
      {sealDocumented === null ? null : (
        <>
          <br />
          <span className="faint">
            {sealFound ?? 'none'} instead of {sealDocumented}
          </span>
        </>
      )}
    </>
  );
}

function MassDifference({ line }: { readonly line: DifferenceFigures }) {
  const { differenceMicrograms: difference, standardUncertaintyMicrograms: uncertainty } = line;
  if (difference === null) return '–';
  return (
    <>
      {plus(difference / 1e6, 1)}
      {uncertainty === null ? null : (
        <>
          <br />
          <span className="faint">± {printNumber(uncertainty / 1e6, 1)}</span>
        </>
      )}
    </>
  );
}
