import { useId, useState } from 'react';
import { Field } from './field.tsx';
import { namedIn, type Searched, searchedIn } from './searched.ts';

/** One of many things: found by words of its label, purpose or source, and chosen from what is found. */
export function SearchedChoice(props: {
  readonly label: string;
  readonly value: string;
  readonly choices: readonly Searched[];
  readonly onChange: (value: string) => void;
  readonly hint?: string | undefined;
  readonly refusal?: string | undefined;
}) {
  const { label, value, choices, onChange, hint, refusal } = props;
  // What is typed while nothing is chosen by it; nothing where the choice stands.
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const chosen = choices.find((one) => one.value === value);
  const found = chosen ? [] : searchedIn(choices, typed ?? '');
  const type = (text: string) => {
    setTyped(text);
    onChange(namedIn(choices, text)?.value ?? '');
  };
  const pick = (picked: string) => {
    setTyped(undefined);
    onChange(picked);
  };
  return (
    <div className="searched">
      <Field {...{ label, hint, refusal }}>
        {({ id, describedBy }) => (
          <input
            id={id}
            type="text"
            className="entry-searched"
            aria-describedby={describedBy}
            aria-invalid={refusal ? true : undefined}
            autoComplete="off"
            spellCheck={false}
            value={typed ?? chosen?.label ?? value}
            onChange={(event) => type(event.target.value)}
            onBlur={() => chosen && setTyped(undefined)}
          />
        )}
      </Field>
      {chosen ? (
        <p className="searched-chosen">
          {chosen.purpose} <span className="faint">{chosen.source}</span>
        </p>
      ) : (
        <Found found={found} onPick={pick} />
      )}
    </div>
  );
}

function Found(props: {
  readonly found: readonly Searched[];
  readonly onPick: (value: string) => void;
}) {
  const name = useId();
  const { found, onPick } = props;
  if (found.length === 0) {
    return <p className="faint">Nothing in the list has all of these words.</p>;
  }
  return (
    <fieldset className="searched-found">
      <legend className="unseen">{`Choose one of ${found.length}`}</legend>
      {found.map((one) => (
        <label key={one.value} className="searched-one">
          <input type="radio" name={name} onChange={() => onPick(one.value)} />
          <span>
            {one.label}
            <span className="searched-purpose">{one.purpose}</span>
            <span className="searched-purpose faint">{one.source}</span>
          </span>
        </label>
      ))}
    </fieldset>
  );
}
