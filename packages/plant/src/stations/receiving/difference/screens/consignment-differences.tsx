import { Part, PathLink, pathTo, useQuestion } from '../../../../workbench/index.ts';
import type { ConsignmentDifferencesAnswer } from './answer-shapes.ts';
import { DifferenceLines } from './lines-table.tsx';

/** In what a consignment differs, on its page; nothing where it does not. */
export function ConsignmentDifferences({ consignment }: { readonly consignment: string }) {
  const { answer } = useQuestion<ConsignmentDifferencesAnswer | null>('consignment-differences', {
    consignment,
  });
  if (!answer || answer.lines.length === 0) return null;
  const open = answer.lines.filter(({ state }) => state === 'open').length;
  return (
    <Part
      title="Differences with the supplier"
      aside={
        <PathLink to={pathTo('/receiving/consignments/$consignment/difference', { consignment })}>
          {open > 0 ? `raise ${open} of ${answer.lines.length}` : 'all are raised'}
        </PathLink>
      }
    >
      <DifferenceLines caption="What differs from the document" lines={answer.lines} />
    </Part>
  );
}
