import { useState } from 'react';
import { State, TextField } from '../../../../workbench/index.ts';
import { isWholeScan } from '../../screens/whole-scan.ts';
import type { MeltPortionsAnswer } from './answer-shapes.ts';
import { takeBlank } from './seal-draft.ts';

/** The blanks of the portion in hand, scanned one after the other; none for cuttings. */
export function ScanBlanks(props: {
  readonly answer: MeltPortionsAnswer;
  readonly inHand: readonly string[];
  readonly inOthers: readonly string[];
  readonly change: (blanks: readonly string[]) => void;
}) {
  const { answer, inHand, inOthers, change } = props;
  const [typed, setTyped] = useState('');
  const [said, setSaid] = useState({ words: '', isRight: true });
  // What was said of the portion before is not said of the next one.
  const words = said.isRight && inHand.length === 0 ? '' : said.words;
  const take = (code: string) => {
    const scan = takeBlank({ inHand, inOthers, sample: answer.blanks }, code.trim());
    setSaid(scan);
    setTyped('');
    change(scan.blanks);
  };
  return (
    <>
      {/* A form of its own: after a scan the field keeps the focus and waits for the next one. */}
      <form
        data-own-enter
        onSubmit={(event) => {
          event.preventDefault();
          if (typed !== '') take(typed);
        }}
      >
        <TextField
          label="Blanks"
          kind="text"
          scans
          value={typed}
          onChange={(text) => (isWholeScan(text, typed) ? take(text) : setTyped(text))}
          optional
          hint="Scan each whole blank; none for cuttings, which go by their grams."
        />
      </form>
      <p role="status" className={said.isRight ? 'scan-said' : 'scan-said scan-wrong'}>
        {said.isRight ? null : <State word="not taken" tone="stopped" />} {words}
      </p>
      <ul className="taken-blanks">
        {inHand.map((blank) => (
          <li key={blank}>
            {blank}{' '}
            <button
              type="button"
              className="row-remove"
              aria-label={`Take ${blank} out`}
              onClick={() => change(inHand.filter((one) => one !== blank))}
            >
              take out
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}
