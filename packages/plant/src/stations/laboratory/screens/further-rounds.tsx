import { PathLink, pathTo, printNumber, State } from '../../../workbench/index.ts';
import type { ShownRound, TrialAnswer } from './trial-answer.ts';

const words: Readonly<Record<ShownRound['state'], string>> = {
  asked: 'asked for, to be drawn at receiving',
  drawn: 'drawn, to be taken to the laboratory',
  taken: 'in the laboratory',
  lapsed: 'not needed any more',
};

/** Further blanks that were asked for, and how far they have come. */
export function FurtherRounds({ answer }: { readonly answer: TrialAnswer }) {
  const { melt, further } = answer;
  if (further.rounds.length === 0) return null;
  return (
    <ul className="plain-list">
      {further.rounds.map((row) => {
        const isOpen = row.state === 'asked' || row.state === 'drawn';
        return (
          <li key={row.round}>
            <PathLink to={pathTo('/receiving/melts/$melt/further', { melt })}>
              {row.pieces === 1 ? 'One further blank' : `${printNumber(row.pieces)} further blanks`}
            </PathLink>{' '}
            <State word={words[row.state]} tone={isOpen ? 'waits' : 'plain'} />{' '}
            <span className="faint">{row.reason}</span>
          </li>
        );
      })}
    </ul>
  );
}
