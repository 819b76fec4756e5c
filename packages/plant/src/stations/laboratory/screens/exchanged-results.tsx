import {
  Part,
  PathLink,
  pathTo,
  printDecimal,
  State,
  useQuestion,
} from '../../../workbench/index.ts';

/** What of the question `melt-exchange` is shown here. */
interface ExchangeAnswer {
  readonly state: string;
  readonly isSigned: boolean;
  readonly comparison: { readonly output: { readonly words: string } } | null;
  readonly settlement: { readonly agreed: { readonly text: string } } | null;
}

/** What supplier and umpire found of a melt, in one sentence; nothing while neither has reported. */
export function ExchangedResults({ melt }: { readonly melt: string }) {
  const { answer } = useQuestion<ExchangeAnswer | null>('melt-exchange', { melt });
  if (!answer) return null;
  const { state, comparison, settlement } = answer;
  const isApart = state === 'apart' || state === 'umpire has spoken';
  return (
    <Part
      title="Exchange of assays"
      aside={
        <PathLink to={pathTo('/receiving/melts/$melt/exchange', { melt })}>All results</PathLink>
      }
    >
      {answer.isSigned ? (
        <p>
          <State word={state} tone={isApart ? 'look' : 'plain'} />
          {state === 'settled' && settlement ? ` at ${printDecimal(settlement.agreed.text)} ‰` : ''}
          . {comparison?.output.words}
        </p>
      ) : (
        <p>A result of the other side lies under cover until the plant has signed its own.</p>
      )}
    </Part>
  );
}
