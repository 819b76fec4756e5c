import { useState } from 'react';
import {
  Empty,
  Facts,
  Figure,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  TextField,
  useGo,
  useQuestion,
} from '../../../../workbench/index.ts';
import { exactlyOne } from '../../screens/exactly-one.ts';
import { isWholeScan } from '../../screens/whole-scan.ts';
import type { PortionsAnswer } from './answer-shapes.ts';
import { PortionsTable } from './portions-table.tsx';

/** Every sealed portion: what lies on the shelf, what is outside, and what is kept too long. */
export function ShelfPage() {
  const { answer, problem } = useQuestion<PortionsAnswer>('portions');
  if (!answer) {
    return (
      <Page title="Portions">
        <Pending problem={problem} />
      </Page>
    );
  }
  const byDay = answer.portions.toSorted((one, other) =>
    (one.keptUntil ?? '9999').localeCompare(other.keptUntil ?? '9999'),
  );
  const overdue = byDay.filter(({ isOverdue }) => isOverdue);
  const here = byDay.filter(({ state, isOverdue }) => state === 'sealed' && !isOverdue);
  const outside = byDay.filter(({ state, isOverdue }) => state !== 'sealed' && !isOverdue);
  return (
    <Page
      title="Portions"
      about="Sealed parts of samples: for the plant, supplier, umpire, reserve"
    >
      <Facts
        facts={[
          ['Sealed here', <Figure key="here" value={here.length} size="result" />],
          ['Outside', <Figure key="outside" value={outside.length} size="result" />],
          ['Kept too long', <Figure key="overdue" value={overdue.length} size="result" />],
        ]}
      />
      {byDay.length === 0 ? (
        <Empty
          what="No portion is sealed."
          how={
            <PathLink to="/receiving">
              Seal them from the pick list of a melt that was drawn.
            </PathLink>
          }
        />
      ) : (
        <PortionInHand answer={answer} />
      )}
      {overdue.length > 0 ? (
        <Part title="Kept too long">
          <PortionsTable caption="Portions whose day has passed" portions={overdue} />
        </Part>
      ) : null}
      {here.length > 0 ? (
        <Part title="On the shelf">
          <PortionsTable caption="Portions that lie sealed here" portions={here} />
        </Part>
      ) : null}
      {outside.length > 0 ? (
        <Part title="Outside">
          <PortionsTable caption="Portions with supplier or umpire" portions={outside} />
        </Part>
      ) : null}
    </Page>
  );
}

/** A portion that is scanned opens with what can be done with it. */
function PortionInHand({ answer }: { readonly answer: PortionsAnswer }) {
  const go = useGo();
  const [portion, setPortion] = useState('');
  const known = answer.portions.map((row) => ({ id: row.portion }));
  const take = (text: string) => {
    const isScan = isWholeScan(text, portion);
    setPortion(text);
    const found = isScan ? known.find(({ id }) => id === text) : exactlyOne(known, text);
    if (found) go(pathTo('/receiving/portions/$portion', { portion: found.id }));
  };
  const isStrange = portion !== '' && !known.some(({ id }) => id.startsWith(portion));
  return (
    <TextField
      label="Portion in hand"
      kind="code"
      value={portion}
      onChange={take}
      hint="Scan its label."
      refusal={isStrange ? `No portion ${portion} is sealed.` : undefined}
    />
  );
}
