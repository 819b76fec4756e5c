import { State } from '../../../../workbench/index.ts';
import type { ReagentLotRow } from '../books.ts';

/** Whether a lot may be used today: plain while it may. */
export function LotState({ row, day }: { readonly row: ReagentLotRow; readonly day: string }) {
  if (row.state === 'condemned') return <State word="condemned" tone="stopped" />;
  if (row.expires < day) return <State word={`expired ${row.expires}`} tone="stopped" />;
  return row.state;
}
