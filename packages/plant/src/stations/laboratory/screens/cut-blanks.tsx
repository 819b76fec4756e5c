import { MainAct, useCommand, useDraft } from '../../../workbench/index.ts';
import { BlankChoice } from './blank-choice.tsx';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import { isWholeHere } from './next-act.ts';

/** The refusal that names one of the blanks of a list. */
function listRefusal(
  refusals: readonly { readonly field?: string | undefined; readonly message: string }[],
): string | undefined {
  return refusals.find(({ field }) => field?.startsWith('blanks'))?.message;
}

/** Blanks stop being pieces: portions are cut from them, their grams stay. */
export function CutBlanks(work: MeltWork) {
  const { answer } = work;
  const { melt } = answer;
  const whole = answer.blanks.filter(isWholeHere);
  const forAssay = whole.filter((blank) => blank.forAssay);
  const unmeasured = answer.blanks.filter((blank) => blank.forAssay && !blank.measurement);
  // While blanks of the draw wait, no other can be cut, so that nobody chooses the sample.
  const offered = forAssay.length > 0 || unmeasured.length > 0 ? forAssay : whole;
  const [draft, change, clear] = useDraft<{ chosen: readonly string[] | null }>(`cut ${melt}`, {
    chosen: null,
  });
  const cut = useCommand('cut-blanks', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  const ids = offered.map(({ blank }) => blank);
  const chosen =
    draft.chosen?.filter((blank) => ids.includes(blank)) ?? (forAssay.length > 0 ? ids : []);
  return (
    <MeltFrame
      {...work}
      title="Cut blanks for assay"
      mainAct={
        <MainAct
          label="Cut blanks"
          command={cut}
          notYet={chosen.length === 0 ? 'Choose the blanks that are cut.' : undefined}
          input={() => ({ melt, blanks: chosen })}
        />
      }
    >
      <p>
        {forAssay.length > 0
          ? 'The draw chose these blanks. A blank that is cut stops being a piece; its grams stay in the laboratory.'
          : 'The blanks that the draw chose for assay are cut. A further one stops being a piece; its grams stay in the laboratory.'}
      </p>
      {unmeasured.length > 0 ? (
        <p className="faint">
          To be measured first: {unmeasured.map(({ blank }) => blank).join(', ')}.
        </p>
      ) : null}
      <BlankChoice
        title="Blanks"
        blanks={offered}
        chosen={chosen}
        onChange={(now) => change({ chosen: now })}
        refusal={listRefusal(cut.refusals)}
      />
    </MeltFrame>
  );
}
