import { State, Table } from '../../../workbench/index.ts';
import type { ResultFigures } from '../bodies.ts';

/** A line of the check against the impurity table. */
interface CheckedElement {
  readonly element: string;
  readonly state: keyof typeof tones;
  readonly limitMilligramsPerKilogram: number;
  readonly highestMilligramsPerKilogram: number | null;
  readonly reason: string;
}

const tones = {
  within: 'plain',
  undecided: 'look',
  'not determined': 'look',
  beyond: 'stopped',
} as const;

/** The impurities of a result against the table of its piece standard, where it has one. */
export function ImpuritiesShown({ figures }: { readonly figures: ResultFigures }) {
  const { impurities } = figures;
  if (!impurities) return null;
  const state = impurities.output['state'] as keyof typeof tones;
  const rows = impurities.output['elements'] as unknown as readonly CheckedElement[];
  return (
    <details open={state !== 'within'}>
      <summary>
        Impurities <State word={state} tone={state === 'within' ? 'done' : tones[state]} />
        <span className="faint"> {String(impurities.input['edition'])}</span>
      </summary>
      <Table
        caption="Impurities against the table, highest of the solutions"
        rows={rows}
        filter={false}
        keyOf={(row) => row.element}
        columns={[
          { key: 'element', title: 'Element', value: (row) => row.element },
          {
            key: 'limit',
            title: 'At most',
            unit: 'mg/kg',
            value: (row) => row.limitMilligramsPerKilogram,
            isNumber: true,
          },
          {
            key: 'highest',
            title: 'To reckon with',
            unit: 'mg/kg',
            value: (row) => row.highestMilligramsPerKilogram ?? undefined,
            decimals: 1,
          },
          {
            key: 'state',
            title: 'State',
            value: (row) => row.state,
            cell: (row) => (
              <>
                <State word={row.state} tone={tones[row.state]} />{' '}
                {row.state === 'within' ? null : <span className="faint">{row.reason}</span>}
              </>
            ),
          },
        ]}
      />
    </details>
  );
}
