import { useState } from 'react';
import {
  ChoiceField,
  Figure,
  Part,
  SideAct,
  State,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { countScanned, type ListedDrum, type PicksInHand, takeScan } from './picks-in-hand.ts';
import { isWholeScan } from './whole-scan.ts';

/** The scan field at the drums: drum, then its picks, each verified as it is taken. */
export function ScanPicks(props: {
  readonly drums: readonly ListedDrum[];
  readonly samplePieces: number;
  readonly inHand: PicksInHand;
  readonly change: (inHand: PicksInHand) => void;
}) {
  const { drums, samplePieces, inHand, change } = props;
  const [typed, setTyped] = useState('');
  const [said, setSaid] = useState({ words: 'Scan the first drum.', isRight: true });
  const take = (code: string) => {
    const scan = takeScan(drums, inHand, code.trim());
    setSaid(scan);
    setTyped('');
    change(scan.inHand);
  };
  return (
    <Part
      title="Take the picks"
      aside={
        <span className="picks-count">
          <Figure value={countScanned(drums, inHand)} size="result" /> of {samplePieces}
        </span>
      }
    >
      {/* A form of its own: after a scan the field keeps the focus and waits for the next one. */}
      <form
        data-own-enter
        onSubmit={(event) => {
          event.preventDefault();
          if (typed !== '') take(typed);
        }}
      >
        <TextField
          label="Drum or pick"
          kind="code"
          value={typed}
          onChange={(text) => {
            if (isWholeScan(text, typed)) take(text);
            else setTyped(text);
          }}
          hint="Scan the drum, then the code of each pick as you take it out."
        />
      </form>
      <p role="status" className={said.isRight ? 'scan-said' : 'scan-said scan-wrong'}>
        {said.isRight ? null : <State word="not taken" tone="stopped" />} {said.words}
      </p>
    </Part>
  );
}

/** A pick that cannot be taken: another place is drawn in its stead, and the reason is recorded. */
export function SubstitutePick(props: {
  readonly melt: string;
  /** Of the first sample, or of further blanks. */
  readonly command: 'substitute-pick' | 'substitute-further-pick';
  readonly onSubstituted: (blank: string) => void;
}) {
  const { melt, onSubstituted } = props;
  const [draft, change, clear] = useDraft(`${props.command} ${melt}`, {
    blank: '',
    from: 'the same drum' as 'the same drum' | 'the other drums',
    reason: '',
  });
  const substitute = useCommand(props.command, {
    onRecorded: () => {
      onSubstituted(draft.blank);
      clear();
    },
  });
  const { blank, from, reason } = draft;
  return (
    <details className="substitute">
      <summary>A pick cannot be taken</summary>
      <p className="faint">
        Another place is drawn from the same seed: nobody chooses it. The exception stays in the
        record with its reason.
      </p>
      <TextField
        label="Pick that cannot be taken"
        value={blank}
        onChange={(text) => change({ blank: text })}
        hint="As it stands on the list, M-1/3."
        refusal={substitute.refusalAt('blank')}
      />
      <ChoiceField
        label="Instead from"
        value={from}
        choices={[
          { value: 'the same drum', label: 'the same drum' },
          { value: 'the other drums', label: 'the other drums of the melt' },
        ]}
        onChange={(chosen) => change({ from: chosen })}
        refusal={substitute.refusalAt('from')}
      />
      <TextField
        label="Why it cannot be taken"
        kind="long"
        value={reason}
        onChange={(text) => change({ reason: text })}
        refusal={substitute.refusalAt('reason')}
      />
      <SideAct
        label="Draw a substitute"
        command={substitute}
        input={() => ({ melt, blank: blank.trim(), from, reason })}
        notYet={blank === '' || reason === '' ? 'Name the pick and say why.' : undefined}
      />
    </details>
  );
}
