import type { SeriesState } from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import type { DocketPaper } from '../../journal/station.ts';
import type { Consignment, Drum } from './books.ts';
import { meltsOfConsignment } from './index.ts';
import { nextStepOf } from './next-step.ts';
import { openConsignments } from './questions.ts';
import { drumsOfConsignment } from './read-model.ts';
import { inspectionOf } from './series.ts';

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

function discontinuedPaper(consignment: Consignment, inspection: SeriesState): DocketPaper {
  const { consignment: id, supplier, pieceStandard } = consignment;
  return {
    paper: `receiving-discontinued-${id}`,
    station,
    what: `Inspection of ${pieceStandard} from ${supplier} is discontinued.`,
    why: inspection.reason,
    holdsUp: `The samples of consignment ${id}`,
    act: 'Resume inspection or send the drums back',
    path: `/receiving/consignments/${encodeURIComponent(id)}`,
    since: consignment.seedAt ?? consignment.announcedAt,
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
  const inspection = await inspectionOf(books, consignment);
  const step = nextStepOf(consignment, drums, await meltsOfConsignment(books, id), inspection);
  if (step.command === 'resume-inspection') return [discontinuedPaper(consignment, inspection)];
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
