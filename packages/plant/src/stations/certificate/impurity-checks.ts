import { highestContents, impurityTableCheckInput, type SolutionContent } from '@cupel/calculation';
import type { Json } from '../../ports/json.ts';
import type { CertificateContent, CertifiedMelt } from './content.ts';
import { type Equality, equalityCheck, figureValue } from './figure-agreement.ts';
import type { CertificateCheck } from './verify-certificate.ts';

/** The contents in the solutions of the determinations that count, as their calculations hold them. */
function contentsOf(melt: CertifiedMelt): readonly SolutionContent[] {
  return melt.determinations
    .filter(({ state }) => state === 'valid')
    .flatMap(({ from }) => {
      const field = { calculation: from.calculation, field: 'input.impurities' };
      const found = figureValue(field, melt.calculations);
      return Array.isArray(found) ? (found as unknown as SolutionContent[]) : [];
    });
}

/** Checks the impurities of a melt against the contents found and the table of the piece standard. */
export function impurityChecks(
  melt: CertifiedMelt,
  content: CertificateContent,
): readonly CertificateCheck[] {
  const table = content.pieceStandard.impurityTable;
  const { impurities } = melt;
  const check = `melt ${melt.melt}: impurities`;
  if (!table && !impurities) return [];
  if (!table || !impurities) {
    const words = table
      ? 'The piece standard has an impurity table, and nothing says how the melt lies to it.'
      : 'Impurities are held against a table that the piece standard does not have.';
    return [{ check, holds: false, words }];
  }
  const named = (field: string) =>
    figureValue({ calculation: impurities.calculation, field }, melt.calculations);
  const input = impurityTableCheckInput.safeParse(named('input'));
  const coverageFactor = input.success ? input.data.coverageFactor : 0;
  const equalities: readonly Equality[] = [
    ['edition', table.edition, named('input.edition')],
    ['limits', table.limits as unknown as Json, named('input.limits')],
    [
      'contents',
      highestContents(contentsOf(melt), coverageFactor) as unknown as Json,
      named('input.contents'),
    ],
    ['state', impurities.state, named('output.state')],
    ['impurities of a melt that was released', impurities.state, 'within'],
  ];
  return [
    equalityCheck(
      check,
      equalities,
      `The contents found lie within the table, edition ${table.edition}.`,
    ),
  ];
}
