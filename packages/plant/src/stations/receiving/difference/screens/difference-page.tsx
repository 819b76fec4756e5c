import {
  Empty,
  Page,
  PathLink,
  Pending,
  type ScreenProps,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { DifferenceAnswer } from './answer-shapes.ts';
import { DifferenceFrame } from './difference-frame.tsx';
import { RecordAnswer, SettleDifference } from './settle-difference.tsx';

/** One document: what was claimed, what the supplier said, what was agreed. */
export function DifferencePage({ params }: ScreenProps) {
  const difference = params['difference'] ?? '';
  const { answer, problem } = useQuestion<DifferenceAnswer | null>('supplier-difference', {
    difference,
  });
  if (answer === undefined) {
    return (
      <Page title={`Difference ${difference}`}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={`Difference ${difference}`}>
        <Empty
          what="No difference of this number was raised."
          how={<PathLink to="/receiving/differences">All differences with suppliers.</PathLink>}
        />
      </Page>
    );
  }
  if (answer.state === 'raised') return <RecordAnswer answer={answer} />;
  if (answer.state === 'answered') return <SettleDifference answer={answer} />;
  return <DifferenceFrame answer={answer} />;
}
