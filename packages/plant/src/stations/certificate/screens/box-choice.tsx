import { printMicrograms, printNumber, TextField } from '../../../workbench/index.ts';
import { type StrongRoomBox, sumOf } from './desk-answer.ts';

/** Boxes chosen by scanning their labels or by hand, with what they hold together. */
export function BoxChoice(props: {
  readonly boxes: readonly StrongRoomBox[];
  readonly chosen: readonly string[];
  readonly onChange: (chosen: readonly string[]) => void;
  readonly scanned: string;
  readonly onScan: (text: string) => void;
  readonly refusalAt: (field: string) => string | undefined;
}) {
  const { boxes, chosen, onChange } = props;
  const isChosen = (box: string) => chosen.includes(box);
  const turn = (box: string) =>
    onChange(isChosen(box) ? chosen.filter((one) => one !== box) : [...chosen, box]);
  const add = () => {
    const box = props.scanned.trim();
    if (box !== '' && !isChosen(box)) onChange([...chosen, box]);
    props.onScan('');
  };
  const rows = boxes.filter(({ box }) => isChosen(box));
  return (
    <>
      <form
        data-own-enter
        className="field-row"
        onSubmit={(event) => {
          event.preventDefault();
          add();
        }}
      >
        <TextField
          label="Box"
          kind="code"
          value={props.scanned}
          onChange={props.onScan}
          refusal={props.refusalAt('boxes')}
        />
        <button type="submit" className="quiet-button">
          Take box
        </button>
      </form>
      <fieldset className="choice-list">
        <legend>
          {printNumber(chosen.length)} of {printNumber(boxes.length)} boxes,{' '}
          {printNumber(sumOf(rows, (row) => row.pieces))} pieces,{' '}
          {printMicrograms(
            sumOf(rows, (row) => row.fineMicrograms),
            'kg',
            3,
          )}{' '}
          kg fine
        </legend>
        {boxes.map(({ box, title, pieces }) => {
          const refusal = isChosen(box)
            ? props.refusalAt(`boxes.${chosen.indexOf(box)}`)
            : undefined;
          return (
            <label key={box}>
              <input type="checkbox" checked={isChosen(box)} onChange={() => turn(box)} />
              <span>{box}</span>
              <span className="faint">
                {title}, {printNumber(pieces)} pieces
              </span>
              {refusal ? <span className="refusal-message">{refusal}</span> : null}
            </label>
          );
        })}
      </fieldset>
    </>
  );
}
