import { Part, PathLink, pathTo, printNumber, State, Table } from '../../../../workbench/index.ts';
import type { CertifiedMeltRow } from '../books.ts';

/** What the question `material-certificates` answers. */
export interface CertificatesAnswer {
  readonly consignment: string;
  readonly supplierName: string;
  readonly pieceStandardTitle: string;
  readonly finenessLimitPerMille: number | null;
  readonly certificates: readonly {
    readonly entry: number;
    readonly instant: string;
    readonly document: string;
    readonly melts: readonly string[];
    readonly strange: readonly string[];
    readonly name: string;
    readonly sha256: string | null;
  }[];
  readonly melts: readonly {
    readonly melt: string;
    readonly certificates: number;
    readonly isSigned: boolean;
    readonly values: readonly CertifiedMeltRow[];
  }[];
  readonly missing: readonly string[];
  readonly awaited: readonly string[];
  readonly forgone: readonly {
    readonly melt: string;
    readonly reason: string;
    readonly entry: number;
    readonly instant: string;
  }[];
}

function contentsInWords({ composition }: CertifiedMeltRow): string {
  return composition
    .map(
      ({ element, content, unit, isBelow }) =>
        `${element} ${isBelow ? '<' : ''}${printNumber(content)} ${unit}`,
    )
    .join(', ');
}

/** The melts, and what certificates say of them once the plant has signed. */
export function MeltsShown({ answer }: { readonly answer: CertificatesAnswer }) {
  type Row = CertificatesAnswer['melts'][number];
  const newest = (row: Row) => row.values[0];
  return (
    <Part title="Melts">
      <Table
        caption="What certificates say of the melts"
        rows={answer.melts}
        keyOf={(row) => row.melt}
        columns={[
          {
            key: 'melt',
            title: 'Melt',
            value: (row) => row.melt,
            cell: (row) => (
              <PathLink to={pathTo('/laboratory/melts/$melt', { melt: row.melt })}>
                {row.melt}
              </PathLink>
            ),
          },
          {
            key: 'state',
            title: 'Certificate',
            value: (row) => row.certificates,
            cell: (row) => <Certified row={row} />,
          },
          {
            key: 'fineness',
            title: 'Fineness',
            unit: '‰',
            value: (row) => newest(row)?.finenessPerMille ?? null,
            cell: (row) => {
              const fineness = newest(row)?.finenessPerMille ?? null;
              return fineness === null ? '–' : printNumber(fineness);
            },
            isNumber: true,
          },
          {
            key: 'composition',
            title: 'Composition',
            value: (row) => newest(row)?.composition.length ?? null,
            cell: (row) => {
              const values = newest(row);
              return values ? contentsInWords(values) : '';
            },
          },
          {
            key: 'findings',
            title: 'What does not fit',
            value: (row) => newest(row)?.findings.join(', ') ?? '',
          },
        ]}
      />
      <p className="faint">
        What a supplier states of a melt is shown once the plant has signed its own result
        {answer.finenessLimitPerMille === null
          ? '.'
          : `; the least fineness is ${printNumber(answer.finenessLimitPerMille)} ‰.`}
      </p>
    </Part>
  );
}

function Certified({ row }: { readonly row: CertificatesAnswer['melts'][number] }) {
  if (row.certificates === 0) return <State word="none" tone="waits" />;
  if (!row.isSigned) return <State word="under cover" tone="plain" />;
  const isFit = row.values[0]?.findings.length === 0;
  return <State word={isFit ? 'fits' : 'does not fit'} tone={isFit ? 'done' : 'look'} />;
}
