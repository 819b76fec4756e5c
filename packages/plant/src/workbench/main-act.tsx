import { useState } from 'react';
import { doneByWords } from './done-by.ts';
import { printNumber } from './number-text.ts';
import { PathLink } from './path-link.tsx';
import type { Signing } from './plant-client.ts';
import { RefusalList } from './refusal-list.tsx';
import { SignDialog } from './sign-dialog.tsx';
import type { CommandInHand } from './use-command.ts';
import { useMissing } from './use-missing.ts';

interface MainActProps {
  /** Verb and object: `Record tube`. */
  readonly label: string;
  readonly command: CommandInHand;
  /** The input at the moment of the act. */
  readonly input: () => unknown;
  /** Why the act cannot be asked for yet, in a sentence; nothing when it can. */
  readonly notYet?: string | undefined;
}

/**
 * The one main act of a page, bottom right of the work. It asks for the signatures that the command
 * needs, once there is something to sign, says what became of it, and shows refusals with their
 * figures and the next step.
 */
export function MainAct({ label, command, input, notYet }: MainActProps) {
  const [isSigning, setIsSigning] = useState(false);
  const { description, stage } = command;
  const isSigned = description?.allowed === true && description.signature !== 'none';
  const { missingIn, isTold, tell } = useMissing(command.command, isSigned);
  const act = () => {
    if (notYet || stage === 'sending') return;
    if (!isSigned) void command.send(input());
    else if (missingIn(input())) {
      command.reset();
      tell(true);
    } else setIsSigning(true);
  };
  const sign = (signing: Signing) => {
    setIsSigning(false);
    tell(false);
    void command.send(input(), signing);
  };
  return (
    <div className="main-act">
      <ActMessage
        label={label}
        command={command}
        notYet={notYet ?? (isTold ? missingIn(input()) : undefined)}
      />
      {description && !description.allowed ? null : (
        <button
          type="button"
          className="act-button main-act-button"
          aria-disabled={Boolean(notYet) || stage === 'sending'}
          onClick={act}
        >
          {stage === 'sending' ? 'Sending …' : stage === 'unreachable' ? 'Send again' : label}
          {needsTwo(command) ? <span className="two-people"> two people</span> : null}
        </button>
      )}
      {isSigning && description ? (
        <SignDialog
          description={description}
          act={label}
          onSign={sign}
          onClose={() => setIsSigning(false)}
        />
      ) : null}
    </div>
  );
}

function needsTwo(command: CommandInHand): boolean {
  return command.description?.signature === 'author and witness';
}

function ActMessage(props: {
  readonly label: string;
  readonly command: CommandInHand;
  readonly notYet: string | undefined;
}) {
  const { label, command, notYet } = props;
  const { description, stage, entries, refusals, problem } = command;
  if (description && !description.allowed) {
    return <p className="act-message">{doneByWords(label, description)}</p>;
  }
  if (stage === 'refused') return <RefusalList refusals={refusals} />;
  if (stage === 'unreachable') {
    return (
      <div className="refusals" role="alert">
        <p className="refusal-message">{problem} Nothing typed here is lost.</p>
        <p className="refusal-next">Send it again when the network is back: it is recorded once.</p>
      </div>
    );
  }
  if (stage === 'failed') {
    return (
      <div className="refusals" role="alert">
        <p className="refusal-message">{problem}</p>
        <p className="refusal-next">Nothing typed here is lost.</p>
      </div>
    );
  }
  const [first] = entries;
  return (
    <p className="act-message" role="status">
      {stage === 'recorded' && first ? (
        <>
          ✓ Recorded as entry{' '}
          <PathLink to={`/journal/${first.number}`}>{printNumber(first.number)}</PathLink>
        </>
      ) : (
        notYet
      )}
    </p>
  );
}

/**
 * A lesser act beside the work, as `Stop drum`: same signing and refusals as the main act, drawn
 * quietly.
 */
export function SideAct(props: MainActProps) {
  return (
    <div className="side-act">
      <MainAct {...props} />
    </div>
  );
}
