import {
  Facts,
  Part,
  PathLink,
  printInstant,
  printNumber,
  SideAct,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import type { HandOverRow } from '../books-periods.ts';
import { placeTitle } from './desk-answer.ts';

/** The handover of a shift: what was signed, or the fields to sign it. */
export function HandOver(props: {
  readonly shift: string;
  readonly handOver: HandOverRow | null;
  /** Whether the shift is the present one or the one before it. */
  readonly isLeaving: boolean;
}) {
  const { shift, handOver, isLeaving } = props;
  if (handOver) return <HandedOver row={handOver} />;
  return isLeaving ? <HandOverFields shift={shift} /> : null;
}

const listed = (items: readonly string[], nothing: string): string =>
  items.length === 0 ? nothing : items.join(', ');

function HandedOver({ row }: { readonly row: HandOverRow }) {
  return (
    <Part title="Handover">
      <p className="as-written">{row.remark}</p>
      <Facts
        facts={[
          ['Left', row.leaving],
          ['Arrived', `${row.arriving}, for ${row.arrivingShift}`],
          ['Signed', printInstant(row.instant)],
          ['Not counted', listed(row.uncountedPlaces.map(placeTitle), 'every place was counted')],
          ['Shifts open', listed(row.openShifts, 'none')],
          ['Differences open', listed(row.openDifferences, 'none')],
          [
            'Entry',
            <PathLink key="entry" to={`/journal/${row.entry}`}>
              {printNumber(row.entry)}
            </PathLink>,
          ],
        ]}
      />
    </Part>
  );
}

function HandOverFields({ shift }: { readonly shift: string }) {
  const [draft, change, clear] = useDraft(`hand over ${shift}`, { remark: '' });
  const handOver = useCommand('hand-over-shift', { onRecorded: clear });
  if (handOver.description?.allowed === false) return null;
  return (
    <Part title="Handover">
      <p>
        Who leaves signs first, who arrives signs second. What is not counted and what is not
        explained is written down by itself.
      </p>
      <TextField
        label="What the next crew has to know"
        kind="long"
        value={draft.remark}
        onChange={(remark) => change({ remark })}
        hint="What stands open and where; “nothing” where there is nothing."
        refusal={handOver.refusalAt('remark') ?? handOver.refusalAt('shift')}
      />
      <SideAct
        label="Hand over shift"
        command={handOver}
        notYet={draft.remark.trim() === '' ? 'Say what the next crew has to know.' : undefined}
        input={() => ({ shift, remark: draft.remark })}
      />
    </Part>
  );
}
