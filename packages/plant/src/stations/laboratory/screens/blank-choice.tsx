import type { ShownBlank } from './trial-answer.ts';

/** Which blanks an act takes, each with where it came from. */
export function BlankChoice(props: {
  readonly title: string;
  readonly blanks: readonly ShownBlank[];
  readonly chosen: readonly string[];
  readonly onChange: (chosen: readonly string[]) => void;
  readonly refusal?: string | undefined;
}) {
  const { blanks, chosen, onChange, refusal } = props;
  const turn = (blank: string, isTaken: boolean) =>
    onChange(
      blanks
        .map((one) => one.blank)
        .filter((one) => (one === blank ? isTaken : chosen.includes(one))),
    );
  return (
    <fieldset className={`field blank-choice${refusal ? ' field-refused' : ''}`}>
      <legend>{props.title}</legend>
      <div className="blank-choice-list">
        {blanks.map(({ blank, forAssay }) => (
          <label key={blank}>
            <input
              type="checkbox"
              checked={chosen.includes(blank)}
              onChange={(event) => turn(blank, event.target.checked)}
            />
            <span>
              <span className="thing-link">{blank}</span>
              {forAssay ? <span className="faint"> for assay</span> : null}
            </span>
          </label>
        ))}
      </div>
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
    </fieldset>
  );
}
