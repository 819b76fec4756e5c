import { State } from '../../../../workbench/index.ts';
import type { ReferenceMaterialRow } from '../books.ts';

/** Whether a reference material may be used today: plain while it may. */
export function MaterialState(props: { readonly row: ReferenceMaterialRow; readonly day: string }) {
  const { row, day } = props;
  if (row.retired) return <State word="retired" tone="plain" />;
  if (row.validUntil < day) return <State word={`ran out ${row.validUntil}`} tone="stopped" />;
  if (row.massRemainingMicrograms === 0) return <State word="used up" tone="stopped" />;
  return 'in use';
}
