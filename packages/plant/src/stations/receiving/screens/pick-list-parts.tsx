import type { Calculated } from '../../../journal/calculated.ts';
import {
  Facts,
  LineageStrip,
  PathLink,
  pathTo,
  printNumber,
  State,
  Table,
  ThingLink,
} from '../../../workbench/index.ts';
import { purposesOf } from '../pick-list-content.ts';
import type { PickWalk, WalkedDrum, WalkedPick } from '../pick-walk.ts';
import { SeverityShown } from './severity-shown.tsx';

/** What the question `pick-list` answers. */
export interface PickListAnswer {
  readonly melt: string;
  readonly consignment: string;
  readonly supplier: string;
  readonly pieceStandard: string;
  readonly pieces: number;
  readonly samplePieces: number;
  readonly assayPieces: number;
  readonly physicalPieces: number;
  readonly acceptanceNumber: number;
  readonly rejectionNumber: number;
  readonly severity: 'normal' | 'tightened';
  readonly severityReason: string;
  readonly seedEntry: number;
  readonly seed: string;
  readonly drawnEntry: number | null;
  readonly planWords: string;
  /** The plan by variables; nothing where the lot is judged by attributes. */
  readonly variables: { readonly pieces: number; readonly words: string } | null;
  readonly plan: Calculated;
  readonly walkWords: string;
  readonly drums: readonly WalkedDrum[];
  readonly verified: PickWalk['verified'];
}

/** The picks of one drum, in the order in which they are taken. */
export function Picks(props: {
  readonly drum: string;
  readonly picks: readonly WalkedPick[];
  readonly scanned: ReadonlySet<string> | undefined;
}) {
  const { drum, picks, scanned } = props;
  const hasTrays = picks.some(({ tray }) => tray !== null);
  return (
    <Table
      caption={`Blanks to take from drum ${drum}`}
      rows={picks}
      keyOf={(row) => row.blank}
      filter={false}
      columns={[
        ...(hasTrays
          ? [{ key: 'tray', title: 'Tray', value: (row: WalkedPick) => row.tray, decimals: 0 }]
          : []),
        {
          key: 'position',
          title: 'Position',
          value: (row) => row.place ?? row.position,
          decimals: 0,
        },
        {
          key: 'blank',
          title: 'Mark it',
          value: (row) => row.blank,
          cell: (row) => (
            <>
              <span className="print-only">□ </span>
              {row.blank}
            </>
          ),
        },
        {
          key: 'for',
          title: 'For',
          value: purposesOf,
          cell: (row) => (
            <>
              {purposesOf(row)}
              {row.substitutedFor === null ? null : (
                <p className="faint">
                  <State word="substitute" tone="look" /> {row.substitutedFor}
                </p>
              )}
            </>
          ),
        },
        ...(scanned
          ? [
              {
                key: 'taken',
                title: 'Taken',
                value: (row: WalkedPick) => (scanned.has(row.blank) ? 'taken' : ''),
                cell: (row: WalkedPick) =>
                  scanned.has(row.blank) ? <State word="taken" tone="done" /> : '',
              },
            ]
          : []),
      ]}
    />
  );
}

/** Why so many and why these: plan, severity with its reason, seed. */
export function HowDrawn({ answer }: { readonly answer: PickListAnswer }) {
  const { supplier, pieceStandard } = answer;
  return (
    <>
      <Facts
        facts={[
          [
            'Severity',
            <PathLink
              key="severity"
              to={pathTo('/receiving/series/$supplier/$pieceStandard', { supplier, pieceStandard })}
            >
              <SeverityShown severity={answer.severity} />
            </PathLink>,
          ],
          [
            'Consignment',
            <PathLink
              key="consignment"
              to={pathTo('/receiving/consignments/$consignment', {
                consignment: answer.consignment,
              })}
            >
              {answer.consignment}
            </PathLink>,
          ],
          ['Supplier', <ThingLink key="supplier" thing="supplier" id={supplier} />],
          [
            'Seed',
            <PathLink key="seed" to={`/journal/${answer.seedEntry}`}>
              hash of entry {printNumber(answer.seedEntry)}
            </PathLink>,
          ],
        ]}
      />
      <p className="faint">{answer.severityReason}</p>
      {answer.variables === null ? null : (
        <p>
          Judged by variables on {printNumber(answer.variables.pieces)} of them, which are measured
          first. {answer.variables.words}
        </p>
      )}
      <p className="faint">{answer.planWords}</p>
      <p className="faint">
        Letter {String(answer.plan.output['planLetter'])}, level{' '}
        {String(answer.plan.input['inspectionLevel'])}, limit{' '}
        {printNumber(Number(answer.plan.input['acceptanceQualityLimitPercent']))} %, MIL-STD-105E.
        Positions count the blanks as they are taken out of the drum.
      </p>
      <LineageStrip thing="melt" id={answer.melt} />
    </>
  );
}
