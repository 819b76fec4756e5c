import {
  FieldRow,
  PeopleNamed,
  printInstant,
  SideAct,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import type { DeskAnswer } from './desk-answer.ts';

/** A delivery of the press room: counted here without sight of what was signed there. */
export function AcceptDelivery({ sent }: { readonly sent: DeskAnswer['inTransit'][number] }) {
  const [draft, change, clear] = useDraft(`accept ${sent.delivery}`, { pieces: '' });
  const accept = useCommand('accept-delivery', { onRecorded: clear });
  return (
    <div className="part-row">
      <p>
        Run <ThingLink thing="run" id={sent.run} />, melt <ThingLink thing="melt" id={sent.melt} />
        <span className="faint">
          , sent by <PeopleNamed author={sent.sentBy} /> {printInstant(sent.since)}
        </span>
      </p>
      <FieldRow>
        <TextField
          label="Pieces counted"
          kind="whole number"
          unit="pieces"
          value={draft.pieces}
          onChange={(pieces) => change({ pieces })}
          refusal={accept.refusalAt('pieces')}
        />
        <SideAct
          label="Accept delivery"
          command={accept}
          input={() => ({ delivery: sent.delivery, pieces: wholeNumberOf(draft.pieces) })}
          notYet={draft.pieces === '' ? 'Count the pieces that came.' : undefined}
        />
      </FieldRow>
    </div>
  );
}
