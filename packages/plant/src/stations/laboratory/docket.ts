import { roundNumberText } from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import { balances } from '../../journal/core-books.ts';
import { seesBook } from '../../journal/sees-book.ts';
import type { DocketPaper } from '../../journal/station.ts';
import type { TrialRow } from './books.ts';
import { standingResult, trialsAt } from './read-model-queries.ts';
import { openStages } from './stage.ts';

const perMille = (value: number, places: number): string =>
  `${roundNumberText(value, places, 'half-even')} ‰`;

const base = (row: TrialRow) => ({
  station: 'laboratory',
  path: `/laboratory/melts/${row.melt}`,
  since: row.since,
});

const physicalWords = (row: TrialRow): string =>
  `${row.blanksNonconforming} of ${row.blanksMeasured} measured blanks lie outside their limits; ${row.rejectionNumber} reject the melt`;

async function checkPaper(books: BookReader, row: TrialRow): Promise<DocketPaper> {
  const signer = (await standingResult(books, row.melt))?.signer;
  return {
    ...base(row),
    paper: `laboratory/check/${row.melt}`,
    what: `The signed result of melt ${row.melt} waits for a second assayer.`,
    why: `Signed by ${signer} in entry ${row.result}.`,
    holdsUp: `The ruling on melt ${row.melt}.`,
    act: 'Check result',
    weight: 'look',
  };
}

async function rulingPaper(books: BookReader, row: TrialRow): Promise<DocketPaper> {
  const result = await standingResult(books, row.melt);
  const fineness = result ? perMille(result.body.finenessPerMille, 3) : '';
  const uncertainty = result ? perMille(result.body.standardUncertaintyPerMille, 3) : '';
  const isWithin = (row.impurities ?? 'within') === 'within';
  const isSound = row.verdict === 'passes' && row.physical === 'accepted' && isWithin;
  const impurities = isWithin ? '' : ` ${String(result?.body.impurities?.output.words ?? '')}`;
  const words = result ? `${String(result.body.decision.output.words)}${impurities}` : '';
  return {
    ...base(row),
    paper: `laboratory/rule/${row.melt}`,
    what: `Melt ${row.melt}: ${fineness} with standard uncertainty ${uncertainty}, verdict ${row.verdict}; blanks ${row.physical}.`,
    why: row.physical === 'rejected' ? `${words} ${physicalWords(row)}.` : words,
    holdsUp: `The pieces of melt ${row.melt} at receiving.`,
    act: 'Rule on melt',
    weight: isSound ? 'look' : 'stopped',
  };
}

function rejectedPaper(row: TrialRow): DocketPaper {
  return {
    ...base(row),
    paper: `laboratory/rejected/${row.melt}`,
    what: `Melt ${row.melt} is rejected by its blanks: ${physicalWords(row)}.`,
    why: `Blanks below the least mass: ${row.blanksBelowLeastMass}. The assay is ${row.stage}.`,
    holdsUp: `The pieces of melt ${row.melt} at receiving.`,
    act: 'Refuse or hold melt, or let the assay go on',
    weight: 'stopped',
  };
}

function heldPaper(row: TrialRow): DocketPaper {
  return {
    ...base(row),
    paper: `laboratory/held/${row.melt}`,
    what: `Melt ${row.melt} is held.`,
    why: `The chief assayer held it; verdict ${row.verdict ?? 'none yet'}, blanks ${row.physical}.`,
    holdsUp: `The pieces of melt ${row.melt}.`,
    act: 'Rule on melt',
    weight: 'stopped',
  };
}

const refusedWords = {
  why: 'A refused melt goes back to its supplier.',
  holdsUp: 'Room at receiving, and the account with the supplier.',
  weight: 'look',
} as const;

async function refusedPapers(books: BookReader, row: TrialRow): Promise<readonly DocketPaper[]> {
  const lying = await books.select(balances, { by: 'byMelt', prefix: [row.melt, 'receiving'] });
  const pieces = lying.reduce((total, one) => total + one.pieces, 0);
  if (pieces <= 0) return [];
  return [
    {
      ...base(row),
      paper: `laboratory/return/${row.melt}`,
      what: `${pieces} pieces of refused melt ${row.melt} lie at receiving.`,
      ...refusedWords,
      act: 'Return melt to supplier',
      readableBy: seesBook,
      toOthers: { what: `Pieces of refused melt ${row.melt} lie at receiving.`, ...refusedWords },
    },
  ];
}

/** What waits at the laboratory for a decision. */
export async function laboratoryDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const open = (await Promise.all(openStages.map((stage) => trialsAt(books, stage)))).flat();
  const papers: DocketPaper[] = [];
  for (const row of open) {
    if (row.stage === 'to be checked') papers.push(await checkPaper(books, row));
    if (row.stage === 'to be ruled') papers.push(await rulingPaper(books, row));
    else if (row.stage === 'held') papers.push(heldPaper(row));
    else if (row.physical === 'rejected') papers.push(rejectedPaper(row));
  }
  for (const row of await trialsAt(books, 'refused')) {
    papers.push(...(await refusedPapers(books, row)));
  }
  return papers;
}
