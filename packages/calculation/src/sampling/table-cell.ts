import { requireDomain } from '../quantity/domain.ts';
import { acceptanceQualityLimits } from './attribute-tables.ts';

/** A cell that holds a plan, with the letter and the sample size of its row. */
export interface TableCell {
  readonly letter: string;
  readonly sampleSizePieces: number;
  readonly cell: string;
}

/**
 * The cell of a letter and a limit in a table of plans, arrows followed.
 *
 * @param table rows of the table: letter, sample size and twenty-six cells, parted by blanks
 * @param tableName for the case of a table that is not sound
 * @param letter code letter of the table
 * @param acceptanceQualityLimitPercent one of the twenty-six column heads
 * @returns the first cell on the way that is no arrow
 * @throws DomainError for a letter or limit that the table does not have
 * Source: MIL-STD-105E (1989), footnotes of Tables II and III
 */
export function cellAfterArrows(
  table: readonly string[],
  tableName: string,
  letter: string,
  acceptanceQualityLimitPercent: number,
): TableCell {
  const rows = table.map((row) => row.split(' '));
  const column = (acceptanceQualityLimits as readonly number[]).indexOf(
    acceptanceQualityLimitPercent,
  );
  requireDomain(column >= 0, {
    field: 'acceptanceQualityLimitPercent',
    value: acceptanceQualityLimitPercent,
    accepted: `one of ${acceptanceQualityLimits.join(', ')}`,
  });
  let index = rows.findIndex((row) => row[0] === letter);
  requireDomain(index >= 0, {
    field: 'letter',
    value: letter,
    accepted: rows.map((row) => row[0]).join(', '),
  });
  // No column has arrows that face each other, so that each step leads nearer to a plan.
  for (;;) {
    const [rowLetter, size, ...cells] = rows[index] ?? [];
    const cell = cells[column];
    if (rowLetter === undefined || cell === undefined) {
      throw new Error(`an arrow leads out of the ${tableName} table at letter ${letter}`);
    }
    if (cell !== 'v' && cell !== '^') {
      return { letter: rowLetter, sampleSizePieces: Number(size), cell };
    }
    index += cell === 'v' ? 1 : -1;
  }
}
