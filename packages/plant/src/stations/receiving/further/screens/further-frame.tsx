import type { ReactNode } from 'react';
import {
  Facts,
  Figure,
  LineageStrip,
  Page,
  Part,
  PathLink,
  pathTo,
  printInstant,
  printNumber,
  ThingLink,
} from '../../../../workbench/index.ts';
import { Picks } from '../../screens/pick-list-parts.tsx';
import type { FurtherAnswer } from './further-answer.ts';

const blanksWords = (pieces: number): string => (pieces === 1 ? '1 blank' : `${pieces} blanks`);

/** The page of a round of further blanks around the act in hand. */
export function FurtherFrame(props: {
  readonly answer: FurtherAnswer;
  readonly trays?: ReactNode;
  /** What is done while the list is walked. */
  readonly above?: ReactNode;
  readonly scanned?: ReadonlySet<string>;
  readonly act?: ReactNode;
  readonly children?: ReactNode;
}) {
  const { answer } = props;
  const { melt, round, drums } = answer;
  return (
    <Page
      title={`Further blanks of melt ${melt}`}
      about={`${blanksWords(round.pieces)} for assay of ${answer.pieceStandardTitle}: ${round.reason}`}
      known={<HowDrawn answer={answer} />}
      act={props.act}
    >
      <Facts
        facts={[['Blanks to take', <Figure key="pieces" value={round.pieces} size="result" />]]}
      />
      {props.trays}
      {props.above ? <div className="not-printed">{props.above}</div> : null}
      {answer.walkWords === '' ? null : <p className="faint">{answer.walkWords}</p>}
      <div className="pick-list">
        {drums.map(({ drum, picks }) => (
          <Part
            key={drum}
            title={`Drum ${drum}`}
            aside={<span className="faint">{blanksWords(picks.length)}</span>}
          >
            <Picks drum={drum} picks={picks} scanned={props.scanned} />
          </Part>
        ))}
      </div>
      <div className="not-printed">{props.children}</div>
    </Page>
  );
}

/** Who asked and why, and from what seed the places follow. */
function HowDrawn({ answer }: { readonly answer: FurtherAnswer }) {
  const { melt, round } = answer;
  return (
    <>
      <Facts
        facts={[
          ['Round', printNumber(round.round)],
          ['Asked for', printInstant(round.askedAt)],
          [
            'Seed',
            <PathLink key="seed" to={`/journal/${round.askedEntry}`}>
              hash of entry {printNumber(round.askedEntry)}
            </PathLink>,
          ],
          [
            'Consignment',
            <PathLink
              key="consignment"
              to={pathTo('/receiving/consignments/$consignment', {
                consignment: answer.consignment,
              })}
            >
              {answer.consignment}
            </PathLink>,
          ],
          ['Supplier', <ThingLink key="supplier" thing="supplier" id={answer.supplier} />],
        ]}
      />
      <p className="faint">
        The blanks that were drawn before are not drawn again; those that the laboratory brought
        back are kept apart from the drums. Positions count the blanks that are left in a drum as
        they are taken out.
      </p>
      <LineageStrip thing="melt" id={melt} />
    </>
  );
}
