import type { BookReader } from '../../journal/books.ts';
import { balanceOfPlace } from '../../journal/core-books.ts';
import { type DeliveryRow, deliveriesOfMelt } from '../press-room/index.ts';
import { acceptances } from './books.ts';

/** What the press room has sent and put-up has not accepted, oldest first. */
export async function deliveriesInTransit(books: BookReader): Promise<readonly DeliveryRow[]> {
  const found: DeliveryRow[] = [];
  for (const { melt, pieces } of await balanceOfPlace(books, 'in-transit')) {
    if (pieces === 0) continue;
    for (const sent of await deliveriesOfMelt(books, melt)) {
      if (!(await books.get(acceptances, sent.entry))) found.push(sent);
    }
  }
  return found.sort((one, other) => one.entry - other.entry);
}
