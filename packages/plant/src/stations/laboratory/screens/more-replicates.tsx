import { printNumber } from '../../../workbench/index.ts';
import { FurtherRounds } from './further-rounds.tsx';
import { actsOf, determinationsLeft } from './next-act.ts';
import { standingResultOf, type TrialAnswer } from './trial-answer.ts';

/** How an undecided result can still be decided in the laboratory, and how far. */
export function MoreReplicates({ answer }: { readonly answer: TrialAnswer }) {
  const isUndecided = standingResultOf(answer.results)?.body.verdict === 'undecided';
  if (!isUndecided || !actsOf(answer).includes('record run')) return null;
  const left = determinationsLeft(answer);
  return (
    <>
      <p>
        {left === 1 ? 'One more determination' : `${printNumber(left)} more determinations`} may be
        added by an assayer, best from further blanks, which he asks for and which are drawn; the
        result is then signed and checked anew.
      </p>
      <FurtherRounds answer={answer} />
    </>
  );
}
