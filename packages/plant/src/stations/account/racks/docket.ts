import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { placeName } from '../place-name.ts';
import { racks } from './books.ts';

const listed = (names: readonly string[]): string =>
  names.length <= 3
    ? names.join(', ')
    : `${names.slice(0, 3).join(', ')} and ${names.length - 3} more`;

/** Racks in which the newest check found too little or too much. */
export async function rackPapers(books: BookReader): Promise<readonly DocketPaper[]> {
  return (await books.select(racks)).flatMap(({ rack, place, check }) => {
    if (!check || check.missing.length + check.strange.length === 0) return [];
    const missing = check.missing.length > 0 ? `${listed(check.missing)} not there` : '';
    const strange = check.strange.length > 0 ? `${listed(check.strange)} there by mistake` : '';
    return [
      {
        paper: `account/rack/${rack}`,
        station: 'account',
        what: `Rack ${rack} in ${placeName(place)}: ${[missing, strange].filter(Boolean).join('; ')}.`,
        why: `${check.found.length} containers were scanned in it.`,
        holdsUp:
          check.missing.length > 0 ? 'Proof that the containers are there.' : 'Order in the racks.',
        act: 'Find the containers and check the rack again',
        path: '/account/racks',
        since: check.instant,
        weight: check.missing.length > 0 ? 'stopped' : 'look',
      },
    ];
  });
}
