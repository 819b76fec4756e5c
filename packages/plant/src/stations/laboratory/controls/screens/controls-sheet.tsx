import {
  Figure,
  PathLink,
  pathTo,
  ReadingFigure,
  State,
  Table,
} from '../../../../workbench/index.ts';
import { decimalsFor } from '../../screens/verdict.tsx';
import type { Comparison, RunControls, RunQuality } from '../bodies.ts';

/** The edition, reagents and controls of a recorded run. */
export function ControlsSheet({ quality }: { readonly quality: RunQuality }) {
  const { method, controls, reagentLots } = quality;
  if (!method && !controls && !reagentLots) return null;
  return (
    <>
      <p className="faint">
        {method ? (
          <>
            Under{' '}
            <PathLink to={pathTo('/registers/methods/$method', { method: method.method })}>
              {method.method}
            </PathLink>
            , edition {method.edition}.{' '}
          </>
        ) : null}
        {reagentLots ? 'Reagent lots: ' : null}
        {(reagentLots ?? []).map((lot, index) => (
          <span key={lot}>
            {index > 0 ? ', ' : null}
            <PathLink to={pathTo('/registers/reagents/$lot', { lot })}>{lot}</PathLink>
          </span>
        ))}
      </p>
      {controls && controls.references.length > 0 ? <References controls={controls} /> : null}
      {controls && controls.blanks.length > 0 ? <Blanks controls={controls} /> : null}
    </>
  );
}

/** Found and certified value in the same digits: no more than the less certain of them bears. */
function decimalsOf(input: Comparison['input']): number {
  return decimalsFor(Math.max(input.foundStandardUncertainty, input.certifiedStandardUncertainty));
}

function References({ controls }: { readonly controls: RunControls }) {
  const rows = controls.references.flatMap((reference) =>
    reference.comparisons.map((comparison) => ({ reference, comparison })),
  );
  return (
    <Table
      caption="Reference materials against their certificates"
      rows={rows}
      filter={false}
      keyOf={({ reference, comparison }) => `${reference.label} ${comparison.quantity}`}
      isMarked={({ comparison }) => !comparison.output.agrees}
      columns={[
        {
          key: 'material',
          title: 'Material',
          value: ({ reference }) => reference.referenceMaterial,
          cell: ({ reference }) => (
            <PathLink
              to={pathTo('/registers/reference-materials/$referenceMaterial', {
                referenceMaterial: reference.referenceMaterial,
              })}
            >
              {reference.referenceMaterial}
            </PathLink>
          ),
        },
        {
          key: 'taken',
          title: 'Taken',
          value: ({ reference }) => reference.taken.text,
          cell: ({ reference }) => <ReadingFigure reading={reference.taken} />,
          isNumber: true,
        },
        {
          key: 'quantity',
          title: 'Quantity',
          value: ({ comparison }) => `${comparison.quantity}, ${comparison.unit}`,
          cell: ({ comparison }) => (
            <span className="nowrap">
              {comparison.quantity}, {comparison.unit}
            </span>
          ),
        },
        {
          key: 'found',
          title: 'Found',
          value: ({ comparison }) => comparison.input.found,
          cell: ({ comparison: { input } }) => (
            <Figure
              value={input.found}
              decimals={decimalsOf(input)}
              uncertainty={input.foundStandardUncertainty}
            />
          ),
          isNumber: true,
        },
        {
          key: 'certified',
          title: 'Certified',
          value: ({ comparison }) => comparison.input.certified,
          cell: ({ comparison: { input } }) => (
            <Figure
              value={input.certified}
              decimals={decimalsOf(input)}
              uncertainty={input.certifiedStandardUncertainty}
            />
          ),
          isNumber: true,
        },
        {
          key: 'en',
          title: 'Eₙ',
          value: ({ comparison }) => comparison.output.normalizedError,
          decimals: 2,
        },
        {
          key: 'state',
          title: 'State',
          value: ({ comparison }) => (comparison.output.agrees ? 'agrees' : 'does not agree'),
          cell: ({ comparison: { output, input } }) =>
            output.agrees ? (
              'agrees'
            ) : (
              <State word={`beyond ${input.greatestNormalizedError}`} tone="stopped" />
            ),
        },
      ]}
    />
  );
}

function Blanks({ controls }: { readonly controls: RunControls }) {
  return (
    <Table
      caption="Blanks"
      rows={controls.blanks}
      filter={false}
      keyOf={(row) => `${row.label} ${row.quantity}`}
      isMarked={(row) => row.passes === false}
      columns={[
        { key: 'label', title: 'Blank', value: (row) => row.label },
        { key: 'quantity', title: 'Quantity', value: (row) => row.quantity },
        {
          key: 'value',
          title: 'Value',
          value: (row) => row.value,
          cell: (row) => <Figure value={row.value} unit={row.unit} />,
          isNumber: true,
        },
        {
          key: 'greatest',
          title: 'At most',
          value: (row) => row.greatest ?? undefined,
          cell: (row) =>
            row.greatest === null ? 'no limit' : <Figure value={row.greatest} unit={row.unit} />,
          isNumber: true,
        },
      ]}
    />
  );
}
