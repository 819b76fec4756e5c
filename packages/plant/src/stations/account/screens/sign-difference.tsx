import {
  ChoiceField,
  type CommandInHand,
  emptyReading,
  FieldRow,
  printMicrograms,
  type ReadingDraft,
  ReadingField,
  readingOf,
  TextField,
  useDraft,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import type { Comparison } from '../comparison.ts';
import { type DeskPlace, differenceWords } from './desk-answer.ts';

interface SignDraft {
  readonly pieceStandard: string;
  readonly melt: string;
  /** Empty for all pieces that differ. */
  readonly pieces: string;
  readonly gross: ReadingDraft;
  readonly explanation: string;
}

/** What is typed of a difference that is not signed yet. */
export function useSignDraft(place: DeskPlace) {
  return useDraft<SignDraft>(`sign difference ${place.place}`, {
    pieceStandard: '',
    melt: '',
    pieces: '',
    gross: emptyReading('g'),
    explanation: '',
  });
}

const piecesIn = (line: Comparison, draft: SignDraft): string =>
  draft.pieces || String(Math.abs(line.piecesDifference));

/** The difference as the command takes it. */
export function signInput(place: DeskPlace, line: Comparison, draft: SignDraft) {
  return {
    place: place.place,
    pieceStandard: line.pieceStandard,
    melt: draft.melt === '' ? null : draft.melt,
    direction: line.piecesDifference < 0 ? 'missing' : 'surplus',
    pieces: wholeNumberOf(piecesIn(line, draft)),
    gross: readingOf(draft.gross),
    explanation: draft.explanation,
  };
}

/** What the tally shows in grams, and what becomes of them where none are signed for. */
function gramsHint({ grossMicrogramsDifference: grams }: Comparison): string {
  const kept = 'Empty signs for the pieces alone; the grams stay in the book.';
  if (grams === null) return `The mass that is signed for with the pieces. ${kept}`;
  const way = grams < 0 ? 'less' : 'more';
  return `The tally shows ${printMicrograms(Math.abs(grams), 'g', 3)} g ${way} than the book. ${kept}`;
}

/** The fields by which a difference is signed for. */
export function SignDifferenceFields(props: {
  readonly differing: readonly Comparison[];
  readonly line: Comparison;
  readonly draft: SignDraft;
  readonly change: (part: Partial<SignDraft>) => void;
  readonly sign: CommandInHand;
}) {
  const { differing, line, draft, change, sign } = props;
  return (
    <>
      {differing.length > 1 ? (
        <ChoiceField
          label="Difference"
          value={line.pieceStandard}
          choices={differing.map(({ pieceStandard, piecesDifference }) => ({
            value: pieceStandard,
            label: `${pieceStandard}: ${differenceWords(piecesDifference)}`,
          }))}
          onChange={(pieceStandard) => change({ pieceStandard, pieces: '' })}
        />
      ) : null}
      <FieldRow>
        <TextField
          label="Pieces"
          kind="whole number"
          unit="pieces"
          value={piecesIn(line, draft)}
          onChange={(pieces) => change({ pieces })}
          refusal={
            sign.refusalAt('pieces') ??
            sign.refusalAt('pieceStandard') ??
            sign.refusalAt('direction')
          }
        />
        <TextField
          label="Melt"
          kind="code"
          value={draft.melt}
          onChange={(melt) => change({ melt })}
          hint="The melt whose pieces differ. Empty where nobody knows it: then it is the one of which most lies here."
          refusal={sign.refusalAt('melt')}
        />
        <ReadingField
          label="Gross mass"
          optional
          value={draft.gross}
          onChange={(gross) => change({ gross })}
          hint={gramsHint(line)}
          refusal={
            sign.refusalAt('gross') ?? sign.refusalAt('gross.text') ?? sign.refusalAt('gross.unit')
          }
        />
      </FieldRow>
      <TextField
        label="Explanation"
        kind="long"
        value={draft.explanation}
        onChange={(explanation) => change({ explanation })}
        hint="What is known, and what was done to find the metal."
        refusal={sign.refusalAt('explanation')}
      />
    </>
  );
}
