import { State, type StateTone } from '../../../../workbench/index.ts';

const tones: Readonly<Record<string, StateTone>> = {
  raised: 'waits',
  answered: 'look',
  settled: 'done',
};

/** The state of a document by word and mark; overdue where the answer should have come. */
export function DifferenceState(props: { readonly state: string; readonly isOverdue: boolean }) {
  return props.isOverdue ? (
    <State word="answer overdue" tone="look" />
  ) : (
    <State word={props.state} tone={tones[props.state] ?? 'plain'} />
  );
}
