import {
  CommandForm,
  Empty,
  Facts,
  Page,
  Part,
  PathLink,
  Pending,
  printInstant,
  printNumber,
  type ScreenProps,
  State,
  useQuestion,
} from '../../../workbench/index.ts';
import type { DifferenceRow } from '../books.ts';
import { placeInWords } from './desk-answer.ts';

/** One difference that two people signed: what it is, and how it ended. */
export function DifferencePage({ params }: ScreenProps) {
  const name = params['difference'] ?? '';
  const { answer, problem } = useQuestion<{ readonly differences: readonly DifferenceRow[] }>(
    'differences',
  );
  const title = `Difference ${name}`;
  if (!answer) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const row = answer.differences.find((one) => one.difference === name);
  if (!row) {
    return (
      <Page title={title}>
        <Empty
          what="No difference of this name was signed."
          how={<PathLink to="/account">The account</PathLink>}
        />
      </Page>
    );
  }
  const isOpen = row.state === 'open';
  return (
    <Page
      title={title}
      about={
        <>
          <State word={row.state} tone={isOpen ? 'look' : 'done'} /> {placeInWords(row.place)},
          shift {row.shift}
        </>
      }
      known={
        <Facts
          facts={[
            ['Pieces', printNumber(row.pieces)],
            ['Piece standard', row.pieceStandard],
            ['Signed', `${row.author} with ${row.witness}, ${printInstant(row.instant)}`],
            [
              'Entry',
              <PathLink key="entry" to={`/journal/${row.entry}`}>
                {printNumber(row.entry)}
              </PathLink>,
            ],
          ]}
        />
      }
    >
      <p>{row.explanation}</p>
      {row.resolution ? <p>Ended: {row.resolution}</p> : null}
      {isOpen ? (
        <Part title="Explain it">
          <CommandForm
            command="explain-difference"
            label="Explain difference"
            given={{ difference: name }}
            isMain
          />
        </Part>
      ) : null}
    </Page>
  );
}
