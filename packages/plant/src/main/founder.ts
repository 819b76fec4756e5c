import type { BookReader } from '../journal/books.ts';
import type { Person } from '../journal/station.ts';
import { peopleOf, personOf } from '../stations/registers/index.ts';

/** Id under which a plant is founded, before anybody is enrolled in it. */
export const founderId = 'plant';

/**
 * Who a person is for the recorder. While nobody is enrolled, the plant itself may found the plant
 * and enrol its first chief assayer; from then on there is no such person.
 */
export async function personForRecorder(
  books: BookReader,
  id: string,
): Promise<Person | undefined> {
  if (id !== founderId) return personOf(books, id);
  const enrolled = await peopleOf(books);
  if (enrolled.length > 0) return undefined;
  return { person: founderId, name: 'The plant', roles: ['chief assayer'], active: true };
}
