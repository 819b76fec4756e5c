import { placeName } from '../../../journal/place.ts';
import { MainAct, useCommand } from '../../../workbench/index.ts';
import { type DeskAnswer, differingLines, placeTitle } from './desk-answer.ts';

/** Why the shift cannot be closed yet, as far as the page knows; the plant says the rest. */
function notYet(answer: DeskAnswer, shift: string): string | undefined {
  if (answer.lastClose?.shift === shift) return `Shift ${shift} is closed.`;
  const uncounted = answer.places.filter(({ needsTally, tally }) => needsTally && !tally);
  if (uncounted.length > 0) {
    return `To be counted first: ${uncounted.map(({ place }) => placeTitle(place)).join(', ')}.`;
  }
  const differing = answer.places.filter((place) => differingLines(place).length > 0);
  if (differing.length === 0) return undefined;
  return `Pieces differ in ${differing.map(({ place }) => placeName(place)).join(', ')}: count again, find them, or let the difference be signed.`;
}

/** Closes a shift, once every place of it is counted. */
export function CloseShift({
  answer,
  shift,
}: {
  readonly answer: DeskAnswer;
  readonly shift: string;
}) {
  const close = useCommand('close-shift');
  if (close.description?.allowed === false) return null;
  return (
    <MainAct
      label="Close shift"
      command={close}
      notYet={notYet(answer, shift)}
      input={() => ({ shift })}
    />
  );
}
