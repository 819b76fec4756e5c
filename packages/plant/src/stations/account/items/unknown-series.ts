import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { itemRefusals } from './refusals.ts';

/** Refuses a series that nobody has received. */
export function unknownSeries(series: string): Refusal {
  return refuse(itemRefusals, 'SeriesUnknown', {
    message: `No series ${series} has been received.`,
    field: 'series',
    figures: { series },
  });
}
