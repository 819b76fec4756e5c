import { Facts, PaperLink, PathLink, printInstant, printNumber } from '../../../workbench/index.ts';
import type { PeriodAnswer } from './period-answer.ts';

type Known = Extract<PeriodAnswer, { readonly isKnown: true }>;

/** When and by whom a period was closed, what it covers, and the tables of a month. */
export function KnownOf({ answer }: { readonly answer: Known }) {
  const { closed, period, length } = answer;
  const papers =
    length === 'month' ? (
      <ul className="plain-list">
        <li>
          <PaperLink paper="month-differences" id={period}>
            Differences, for any program (CSV)
          </PaperLink>
        </li>
        <li>
          <PaperLink paper="month-differences-workbook" id={period}>
            Differences, as a workbook (XLSX)
          </PaperLink>
        </li>
        {answer.seesBook ? (
          <>
            <li>
              <PaperLink paper="month-balances" id={period}>
                Balances of its closes, for any program (CSV)
              </PaperLink>
            </li>
            <li>
              <PaperLink paper="month-balances-workbook" id={period}>
                Balances of its closes, as a workbook (XLSX)
              </PaperLink>
            </li>
          </>
        ) : null}
      </ul>
    ) : null;
  if (!closed) {
    return (
      <>
        <Facts facts={[['Shifts closed', printNumber(answer.shifts.length)]]} />
        {papers}
      </>
    );
  }
  return (
    <>
      <Facts
        facts={[
          ['Closed', printInstant(closed.instant)],
          ['By', `${closed.author} with ${closed.witness}`],
          [
            'Entry',
            <PathLink key="entry" to={`/journal/${closed.entry}`}>
              {printNumber(closed.entry)}
            </PathLink>,
          ],
          ['Entries', `${printNumber(closed.firstEntry)} to ${printNumber(closed.lastEntry)}`],
          ['Leaf of the last entry', <code key="leaf">{closed.lastEntryLeafHash}</code>],
          ['Tree up to it', <code key="tree">{closed.treeHash}</code>],
        ]}
      />
      {papers}
    </>
  );
}
