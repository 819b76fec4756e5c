import {
  CommandForm,
  Empty,
  Facts,
  Figure,
  LineageStrip,
  Page,
  Part,
  PathLink,
  Pending,
  PeopleNamed,
  pathTo,
  printInstant,
  printNumber,
  type ScreenProps,
  useMay,
  useQuestion,
} from '../../../../workbench/index.ts';
import { methodName } from '../../screens/words.ts';
import type { MethodEditionRow } from '../books.ts';
import type { ListedCalculation } from '../fitting-calculations.ts';
import { CalculationChoice } from './calculation-choice.tsx';
import type { MethodAnswer } from './method-answer.ts';

/** One method: its edition in force, its earlier ones, and the next one. */
export function MethodPage({ params }: ScreenProps) {
  const method = params['method'] ?? '';
  const { answer, problem } = useQuestion<MethodAnswer | null>('method', { method });
  const may = useMay('state-method');
  if (!answer) {
    return (
      <Page title={`Method ${method}`}>
        {answer === null ? (
          <Empty what={`${method} is not stated.`} how="The registers list every method." />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  const { inForce, editions, calculation } = answer;
  return (
    <Page
      title={inForce.title}
      about={`Edition ${inForce.edition}, in force since ${printInstant(inForce.since)}`}
      known={
        <>
          <Editions editions={editions} />
          <LineageStrip thing="method" id={method} />
        </>
      }
    >
      <Edition row={inForce} calculation={calculation} />
      {may ? (
        <Part title={`State edition ${printNumber(inForce.edition + 1)}`}>
          <CommandForm
            key={inForce.edition}
            command="state-method"
            label="State edition"
            isMain
            own={{ calculation: CalculationChoice }}
            given={{ method }}
            initial={fieldsOf(inForce)}
          />
        </Part>
      ) : null}
    </Page>
  );
}

/** The fields of an edition as the command takes them. */
function fieldsOf(row: MethodEditionRow) {
  const { edition: _e, metal: _m, entry: _n, since: _s, author: _a, method: _id, ...fields } = row;
  return fields;
}

function Edition(props: {
  readonly row: MethodEditionRow;
  readonly calculation: ListedCalculation | null;
}) {
  const { row, calculation } = props;
  const { scope, referenceMaterials, blanks, reagents } = row;
  return (
    <>
      <Facts
        facts={[
          ['Way of assay', methodName(row.assayMethod)],
          [
            'Calculation',
            <PathLink key="id" to={pathTo('/calculations/$id', { id: row.calculation })}>
              {calculation?.title ?? row.calculation}
            </PathLink>,
          ],
          [
            'Scope',
            <span key="scope">
              {scope.metal}, <Figure value={scope.leastPerMille} /> to{' '}
              <Figure value={scope.greatestPerMille} unit="‰" />
            </span>,
          ],
          ['Determinations at least', printNumber(row.determinationsAtLeast)],
          [
            'Reference materials in every run',
            referenceMaterials.map((one) => `${one.perRun} × ${one.name}`).join(', ') || 'none',
          ],
          ['Greatest Eₙ', printNumber(row.greatestNormalizedError)],
          [
            'Blanks in every run',
            blanks
              .map((one) => `${one.quantity}, at most ${one.greatest} ${one.unit}`)
              .join('; ') || 'none',
          ],
          ['Reagents named in every run', reagents.join(', ') || 'none'],
          ...(row.greatestTitreAgeHours === undefined
            ? []
            : ([['Greatest age of a titre', `${row.greatestTitreAgeHours} h`]] as const)),
          ...(row.notes ? ([['Notes', row.notes]] as const) : []),
        ]}
      />
      {row.cautions.length > 0 ? (
        <Part title="Cautions at the worksheet">
          <ul>
            {row.cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </Part>
      ) : null}
    </>
  );
}

function Editions({ editions }: { readonly editions: readonly MethodEditionRow[] }) {
  return (
    <div>
      <h3>Editions</h3>
      <ul className="plain-list">
        {editions.map((row) => (
          <li key={row.edition}>
            <PathLink to={`/journal/${row.entry}`}>Edition {printNumber(row.edition)}</PathLink>
            <p className="faint">
              since {printInstant(row.since)}, <PeopleNamed author={row.author} />
            </p>
          </li>
        ))}
      </ul>
    </div>
  );
}
