import {
  CheckField,
  type CommandInHand,
  FieldGroup,
  TextField,
} from '../../../../workbench/index.ts';
import { arrangedGrid } from '../arrangement.ts';
import type { MuffleGrid } from '../grid.ts';
import { MufflePicture } from './muffle-picture.tsx';

/** What is typed of the muffle: nothing is noted while its columns are empty. */
export interface MuffleDraft {
  readonly isNoted: boolean;
  readonly columns: string;
  /** Labels in the order of the places, where somebody changed the proposed one. */
  readonly order: string;
}

export const firstMuffle: MuffleDraft = { isNoted: false, columns: '4', order: '' };

interface RunLabels {
  readonly proofs: readonly string[];
  readonly others: readonly string[];
}

const wordsIn = (text: string): readonly string[] => text.split(/[\s,;]+/).filter(Boolean);

/** The places as the command takes them; nothing where they are not noted. */
export function muffleOf(draft: MuffleDraft, run: RunLabels): MuffleGrid | undefined {
  if (!draft.isNoted) return undefined;
  const columns = Math.min(12, Math.max(1, Number.parseInt(draft.columns, 10) || 4));
  const order = wordsIn(draft.order);
  return order.length === 0
    ? arrangedGrid(run, columns)
    : {
        rows: Math.max(1, Math.ceil(order.length / columns)),
        columns,
        cupels: order.map((label, at) => ({
          row: Math.floor(at / columns) + 1,
          column: (at % columns) + 1,
          label,
        })),
      };
}

/** Where the cupels stand: proposed with the proofs spread among the portions, or as typed. */
export function MufflePart(props: {
  readonly draft: MuffleDraft;
  readonly change: (part: Partial<MuffleDraft>) => void;
  readonly run: RunLabels;
  readonly record: CommandInHand;
}) {
  const { draft, change, run, record } = props;
  const grid = muffleOf(draft, run);
  return (
    <FieldGroup title="In the muffle">
      <CheckField
        label="Note where the cupels stand"
        checked={draft.isNoted}
        onChange={(isNoted) => change({ isNoted })}
      />
      {grid ? (
        <>
          <TextField
            label="Cupels in a row"
            kind="whole number"
            value={draft.columns}
            onChange={(columns) => change({ columns })}
            refusal={record.refusalAt('muffle.columns')}
          />
          <TextField
            label="Another order"
            optional
            value={draft.order}
            hint="Labels from the back left on; empty for the one that is shown."
            onChange={(order) => change({ order })}
            refusal={record.refusalAt('muffle')}
          />
          <MufflePicture grid={grid} proofs={run.proofs} />
        </>
      ) : null}
    </FieldGroup>
  );
}
