import {
  Empty,
  MainAct,
  Page,
  PathLink,
  Pending,
  pathTo,
  printNumber,
  type ScreenProps,
  State,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../../workbench/index.ts';
import { TrayChoice, type TraySize } from '../../screens/tray-choice.tsx';
import type { FurtherAnswer } from './further-answer.ts';
import { FurtherFrame } from './further-frame.tsx';
import { TakeFurther } from './take-further.tsx';

/** Further blanks of a melt: drawn, taken from the drums, and brought to the laboratory. */
export function FurtherPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const [{ tray }, change] = useDraft<{ tray: TraySize }>('trays of pick lists', { tray: 'none' });
  const asked = tray === 'none' ? { melt } : { melt, trayPieces: Number(tray) };
  const { answer, problem } = useQuestion<FurtherAnswer | null>('further-blanks', asked);
  const title = `Further blanks of melt ${melt}`;
  if (answer === undefined) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={title}>
        <Empty
          what="No further blanks of this melt were asked for."
          how={
            <PathLink to={pathTo('/laboratory/melts/$melt', { melt })}>
              An assayer asks for them where its trial is undecided.
            </PathLink>
          }
        />
      </Page>
    );
  }
  const trays = (
    <TrayChoice
      melt={melt}
      paper="further-pick-list"
      tray={tray}
      change={(chosen) => change({ tray: chosen })}
    />
  );
  switch (answer.round.state) {
    case 'asked':
      return <ToBeDrawn answer={answer} />;
    case 'drawn':
      return <TakeFurther answer={answer} trays={trays} />;
    case 'taken':
    case 'lapsed':
      return <Done answer={answer} />;
  }
}

function ToBeDrawn({ answer }: { readonly answer: FurtherAnswer }) {
  const draw = useCommand('draw-further-blanks');
  return (
    <FurtherFrame
      answer={answer}
      act={
        <MainAct label="Draw further blanks" command={draw} input={() => ({ melt: answer.melt })} />
      }
    >
      <p>
        Their places are drawn from the hash of the entry that asked for them: nobody chooses them,
        and anybody can repeat the draw.
      </p>
    </FurtherFrame>
  );
}

function Done({ answer }: { readonly answer: FurtherAnswer }) {
  const { melt, round } = answer;
  const { taken } = round;
  return (
    <FurtherFrame answer={answer}>
      {taken === null ? (
        <p>
          <State word="not needed any more" />: the trial of the melt was closed before they were
          taken.
        </p>
      ) : (
        <p>
          <State word="taken" tone="done" /> in{' '}
          <PathLink to={`/journal/${taken.entry}`}>entry {printNumber(taken.entry)}</PathLink>. The
          trial goes on in the{' '}
          <PathLink to={pathTo('/laboratory/melts/$melt', { melt })}>laboratory</PathLink>, where
          they are measured and cut.
        </p>
      )}
      {taken && taken.notScanned.length > 0 ? (
        <p>
          {taken.notScanned.join(', ')} were not scanned: {taken.reason}
        </p>
      ) : null}
    </FurtherFrame>
  );
}
