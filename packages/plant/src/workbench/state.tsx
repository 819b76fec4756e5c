/** How a state asks for a hand: passing things stay plain, only exceptions are coloured. */
export type StateTone = 'plain' | 'done' | 'waits' | 'look' | 'stopped';

const marks: Readonly<Record<StateTone, string>> = {
  plain: '·',
  done: '✓',
  waits: '○',
  look: '△',
  stopped: '■',
};

/** Longer ones are sentences and may break. */
const longestWord = 40;

/** A state: a word with its mark; colour only repeats what the two already say. */
export function State({
  word,
  tone = 'plain',
}: {
  readonly word: string;
  readonly tone?: StateTone;
}) {
  return (
    <span className={`state state-${tone}${word.length > longestWord ? ' state-sentence' : ''}`}>
      <span className="state-mark" aria-hidden="true">
        {marks[tone]}
      </span>
      {word}
    </span>
  );
}

/** A metal, said by its word and shown by its colour. */
export function Metal({ metal }: { readonly metal: string }) {
  return <span className={`metal metal-${metal}`}>{metal}</span>;
}
