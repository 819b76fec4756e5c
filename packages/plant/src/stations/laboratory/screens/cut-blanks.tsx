import { MainAct, useCommand, useDraft } from '../../../workbench/index.ts';
import { BlankChoice } from './blank-choice.tsx';
import { FurtherRounds } from './further-rounds.tsx';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import { isWholeHere } from './next-act.ts';
import type { ShownBlank } from './trial-answer.ts';

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
  const offered = answer.blanks.filter((blank) => blank.forAssay && isWholeHere(blank));
  const others = answer.blanks.filter((blank) => blank.forAssay && !isWholeHere(blank));
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
  const chosen = draft.chosen?.filter((blank) => ids.includes(blank)) ?? ids;
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
        The draw chose these blanks. A blank that is cut stops being a piece; its grams stay in the
        laboratory. Others are never cut: where these do not decide the melt, further ones are
        drawn.
      </p>
      <FurtherRounds answer={answer} />
      <OthersForAssay blanks={others} />
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

/** The other blanks that were drawn for assay, and why they are not offered. */
function OthersForAssay({ blanks }: { readonly blanks: readonly ShownBlank[] }) {
  if (blanks.length === 0) return null;
  return (
    <ul className="plain-list faint">
      {blanks.map((blank) => (
        <li key={blank.blank}>
          {blank.blank}: drawn for assay, {stateOfAssayBlank(blank)}
        </li>
      ))}
    </ul>
  );
}

function stateOfAssayBlank({ measurement, cut, returned, portion }: ShownBlank): string {
  if (cut) return 'cut';
  if (portion) return `in portion ${portion.portion}, ${portion.state}`;
  if (returned) return 'returned to receiving';
  return measurement ? 'whole' : 'to be measured first';
}
