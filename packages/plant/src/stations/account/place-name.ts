import type { InsidePlace } from '../../journal/place.ts';

const names: Readonly<Record<InsidePlace, string>> = {
  receiving: 'receiving',
  laboratory: 'the laboratory',
  'press-room': 'the press room',
  'put-up': 'put-up',
  'strong-room': 'the strong room',
  archive: 'the archive',
  scrap: 'scrap',
  'in-transit': 'transit',
};

/** A place as a sentence names it: metal lies in it, is missing in it, leaves it. */
export function placeName(place: string): string {
  return (names as Readonly<Record<string, string>>)[place] ?? place;
}
