import { MainAct, printNumber, useCommand } from '../../../workbench/index.ts';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';

/** The assayer stands for the result that the valid determinations give. */
export function SignResult(work: MeltWork) {
  const { answer } = work;
  const sign = useCommand('sign-result', {
    onRecorded: (_answer, entries) => work.onRecorded(entries),
  });
  const valid = answer.determinations.filter(({ state }) => state === 'valid').length;
  const discarded = answer.determinations.filter(({ state }) => state === 'discarded').length;
  return (
    <MeltFrame
      {...work}
      title="Sign the result"
      mainAct={<MainAct label="Sign result" command={sign} input={() => ({ melt: answer.melt })} />}
    >
      <p>
        The result rests on {printNumber(valid)} valid determinations
        {discarded > 0 ? `; ${printNumber(discarded)} are discarded with their reasons` : ''}. Every
        reading stands below. Whoever signs cannot check.
      </p>
    </MeltFrame>
  );
}
