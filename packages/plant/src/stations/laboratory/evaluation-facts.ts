import type { BookReader } from '../../journal/books.ts';
import { editionsOf, gatedRuns } from './controls/result-gate.ts';
import type { EvaluationFacts } from './evaluation.ts';
import { contentsOf } from './impurities/check.ts';
import type { SampledMelt } from './melt-facts.ts';
import { determinationsOf } from './read-model-queries.ts';

/** The determinations that count, with the rule that they are judged by. */
export async function evaluationFacts(
  books: BookReader,
  sampled: SampledMelt,
): Promise<EvaluationFacts> {
  const { standard, order, melt } = sampled;
  const rows = await determinationsOf(books, melt.melt);
  const valid = rows.filter((row) => row.state === 'valid');
  const gated = await gatedRuns(
    books,
    valid.map((row) => row.assayRun),
  );
  const editions = editionsOf(gated);
  const contents = contentsOf(
    gated.map(({ run }) => run),
    valid,
  );
  return {
    melt: melt.melt,
    standard,
    blanksForAssay: order.assayPieces,
    valid,
    contents,
    editions,
  };
}
