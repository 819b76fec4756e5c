import { sheetsOfCsv } from '../../../tables/csv-sheet.ts';
import type { Sheet } from '../../../tables/sheet.ts';
import type { SetAside } from '../exchange/file-bodies.ts';
import { type ResultsRead, readResults } from './read-results.ts';
import {
  type ReadTable,
  type ResultMapping,
  type ResultMethod,
  resultMappingSchema,
} from './result-bodies.ts';
import { proposeResultMapping, type ResultProposal } from './result-proposal.ts';

export function sheetsOf(text: string): readonly Sheet[] {
  const read = sheetsOfCsv(text);
  if (read.outcome === 'problem') throw new Error(JSON.stringify(read.problem));
  return read.sheets;
}

export function proposed(text: string, confirmed?: ResultMapping): ResultProposal {
  const proposal = proposeResultMapping(sheetsOf(text), confirmed);
  if (!proposal) throw new Error('no table of results was found');
  return proposal;
}

/** Reads a table by the mapping that is proposed for it, with what a person changed. */
export function readText(
  text: string,
  change: Partial<ResultMapping> = {},
  setAside: readonly SetAside[] = [],
): ResultsRead {
  const mapping = resultMappingSchema.parse({ ...proposed(text).mapping, ...change });
  return readResults(sheetsOf(text), mapping, setAside);
}

export function tableOf(read: ResultsRead): ReadTable {
  if (read.outcome === 'problems') throw new Error(JSON.stringify(read.problems));
  return read.table;
}

/** Each row as a line: label, role, and contents with the elements they are of. */
export function rowsOf(read: ResultsRead): readonly string[] {
  const { elements, rows } = tableOf(read);
  return rows.map(({ label, role, contents }) => {
    const each = contents.map((content, at) => `${elements[at]?.element} ${content}`);
    return `${label} | ${role} | ${each.join(', ')}`;
  });
}

export const method: ResultMethod = {
  calibrationRelativeUncertaintyPercent: 2,
  driftLimitPercent: 5,
  limits: [],
  standards: [],
};
