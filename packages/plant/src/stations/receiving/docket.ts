import type { BookReader } from '../../journal/books.ts';
import type { DocketPaper } from '../../journal/station.ts';
import type { Consignment, Drum } from './books.ts';
import { meltsOfConsignment } from './index.ts';
import { nextStepOf } from './next-step.ts';
import { openConsignments } from './questions.ts';
import { drumsOfConsignment } from './read-model.ts';

const station = 'receiving';

function stoppedPaper(drum: Drum): DocketPaper {
  return {
    paper: `receiving-stopped-${drum.drum}`,
    station,
    what: `Drum ${drum.drum} of melt ${drum.melt}, ${drum.pieces} pieces, is stopped.`,
    why: drum.stopReason ?? '',
    holdsUp: `The samples of consignment ${drum.consignment}`,
    act: 'Admit the drum or send it back',
    path: `/receiving/consignments/${encodeURIComponent(drum.consignment)}`,
    since: drum.changedAt,
    weight: 'stopped',
  };
}

const acts = {
  'tally-drum': 'Tally the drums',
  'order-samples': 'Order the samples',
  'record-draw': 'Record the draw',
} as const;

async function stepPaper(
  books: BookReader,
  consignment: Consignment,
  drums: readonly Drum[],
): Promise<readonly DocketPaper[]> {
  const id = consignment.consignment;
  const step = nextStepOf(consignment, drums, await meltsOfConsignment(books, id));
  if (step.command === null || !(step.command in acts)) return [];
  return [
    {
      paper: `receiving-${step.command}-${id}`,
      station,
      what: `Consignment ${id}: ${step.words}`,
      why:
        step.command === 'tally-drum'
          ? 'Weight alone does not prove the count of these drums.'
          : 'Every drum is counted.',
      holdsUp: `The trial of consignment ${id}`,
      act: acts[step.command as keyof typeof acts],
      path: `/receiving/consignments/${encodeURIComponent(id)}`,
      since: consignment.seedAt ?? consignment.announcedAt,
      weight: 'look',
    },
  ];
}

/** Stopped drums, drums to be tallied, samples to be ordered and to be drawn. */
export async function receivingDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const papers: DocketPaper[] = [];
  for (const consignment of await openConsignments(books)) {
    const drums = await drumsOfConsignment(books, consignment.consignment);
    papers.push(...drums.filter(({ state }) => state === 'stopped').map(stoppedPaper));
    papers.push(...(await stepPaper(books, consignment, drums)));
  }
  return papers;
}
