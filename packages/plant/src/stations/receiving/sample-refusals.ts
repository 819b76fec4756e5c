import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { SamplingOrder } from './books.ts';
import { receivingRefusals } from './refusals.ts';

export function samplesNotOrdered(melt: string): Refusal {
  return refuse(receivingRefusals, 'SamplesNotOrdered', {
    message: `No sample of melt ${melt} has been ordered.`,
    field: 'melt',
    figures: { melt },
  });
}

export function sampleDrawnAlready({ melt, drawnEntry }: SamplingOrder): Refusal {
  return refuse(receivingRefusals, 'SampleAlreadyDrawn', {
    message: `The sample of melt ${melt} was drawn in entry ${drawnEntry}.`,
    field: 'melt',
    figures: { melt, entry: drawnEntry },
  });
}
