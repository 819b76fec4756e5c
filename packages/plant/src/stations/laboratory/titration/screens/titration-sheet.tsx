import {
  Chart,
  Figure,
  PathLink,
  printNumber,
  ReadingFigure,
  Table,
} from '../../../../workbench/index.ts';
import type { TitrationRecorded } from '../bodies.ts';
import { type Vessel, vesselsOf } from '../calculated-of-titration.ts';
import { curveDrawings } from '../curve-drawings.ts';
import type { CurvePoint } from '../read-curve.ts';

type Sample = TitrationRecorded['samples'][number];

interface Line {
  readonly label: string;
  readonly blank: string;
  readonly taken: Sample['sample'] | undefined;
  readonly minutes: number;
  readonly volume: number;
  readonly reason: string | null;
  readonly finenessPerMille: number | undefined;
}

function linesOf(sheet: TitrationRecorded): readonly Line[] {
  const line = ({ label, titrated }: Vessel) => ({
    label,
    blank: '',
    taken: undefined,
    minutes: titrated.minutes,
    volume: titrated.volumeMillilitres,
    reason: titrated.reason,
    finenessPerMille: undefined,
  });
  const { reagentBlank } = sheet;
  return [
    ...(reagentBlank.kind === 'titrated'
      ? [line({ label: 'blank', titrated: reagentBlank.titrated })]
      : []),
    ...sheet.standards.map((one) => ({
      ...line(one),
      label: `standard ${one.label}`,
      taken: one.silver,
    })),
    ...sheet.samples.map((one, index) => ({
      ...line(one),
      label: `portion ${one.label}`,
      blank: one.blank,
      taken: one.sample,
      finenessPerMille: sheet.determinations[index]?.finenessPerMille,
    })),
  ];
}

/** The worksheet of a titration run: masses, end points, and the curve behind each. */
export function TitrationSheet({ sheet }: { readonly sheet: TitrationRecorded }) {
  return (
    <>
      <Table
        caption={`Titrations of ${sheet.assayRun}`}
        rows={linesOf(sheet)}
        keyOf={(row) => row.label}
        columns={[
          { key: 'label', title: 'What', value: (row) => row.label },
          { key: 'blank', title: 'Blank', value: (row) => row.blank },
          { key: 'minutes', title: 'At', unit: 'min', value: (row) => row.minutes, isNumber: true },
          {
            key: 'taken',
            title: 'Taken',
            value: (row) => Number(row.taken?.text),
            cell: (row) => (row.taken ? <ReadingFigure reading={row.taken} /> : ''),
            isNumber: true,
          },
          {
            key: 'volume',
            title: 'End point',
            unit: 'mL',
            value: (row) => row.volume,
            cell: (row) => <Volume row={row} />,
            isNumber: true,
          },
          {
            key: 'fineness',
            title: 'Fineness',
            unit: '‰',
            value: (row) => row.finenessPerMille,
            decimals: 3,
          },
        ]}
      />
      <p>{String(sheet.factor.output['words'])}</p>
      <p className="faint">
        Titrant {sheet.titrant}, {sheet.halide}; silver of{' '}
        {printNumber(sheet.silverFinenessPerMille)} ‰. Weighed on {sheet.balance}.
        {sheet.titre ? (
          <>
            {' '}
            Factor of {sheet.titre.assayRun}, {printNumber(Math.floor(sheet.titre.ageHours))} h old:{' '}
            <PathLink to={`/journal/${sheet.titre.entry}`}>its determination</PathLink>.
          </>
        ) : null}
      </p>
      {vesselsOf(sheet).map((vessel) => (
        <Curve key={vessel.label} vessel={vessel} />
      ))}
    </>
  );
}

function Volume({ row }: { readonly row: Line }) {
  return (
    <>
      <Figure value={row.volume} decimals={4} />
      {row.reason === null ? null : <p className="faint">another point: {row.reason}</p>}
    </>
  );
}

function Curve({ vessel }: { readonly vessel: Vessel }) {
  const { label, titrated } = vessel;
  const curve = titrated.endPoint.input['curve'] as unknown as readonly CurvePoint[];
  const found = Number(titrated.endPoint.output['endPointMillilitres']);
  const taken = titrated.reason === null ? undefined : titrated.volumeMillilitres;
  return (
    <details className="titration-curve-kept">
      <summary>
        Curve of {label}, {printNumber(curve.length)} points
        {titrated.fileName ? <span className="faint"> from {titrated.fileName}</span> : null}
        {titrated.origin === 'line' ? (
          <span className="faint"> collected from the line of the titrator</span>
        ) : null}
      </summary>
      <p>{String(titrated.endPoint.output['words'])}</p>
      {curveDrawings(label, curve, { found, taken }).map((figures) => (
        <Chart key={figures.title} figures={figures} />
      ))}
    </details>
  );
}
