/** Where metal can lie inside the plant, in the order in which it flows. */
export const insidePlaces = [
  'receiving',
  'laboratory',
  'press-room',
  'put-up',
  'strong-room',
  'archive',
  'scrap',
  'in-transit',
] as const;

/**
 * The other ends of a posting, outside the plant's own custody. `ceased` takes the pieces that
 * stop being pieces (cut, dissolved, melted) while their grams stay; `difference` takes what
 * the chief assayer and a witness have signed as a difference.
 */
export const outsidePlaces = ['with-supplier', 'with-purchaser', 'ceased', 'difference'] as const;

export type InsidePlace = (typeof insidePlaces)[number];
export type OutsidePlace = (typeof outsidePlaces)[number];
export type Place = InsidePlace | OutsidePlace;

export const places: readonly Place[] = [...insidePlaces, ...outsidePlaces];

export const metals = ['gold', 'silver'] as const;
export type Metal = (typeof metals)[number];

/** Whether the place is in the plant's own custody. */
export function isInsidePlace(place: Place): place is InsidePlace {
  return (insidePlaces as readonly string[]).includes(place);
}

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

const titles: Readonly<Record<Place, string>> = {
  receiving: 'Receiving',
  laboratory: 'Laboratory',
  'press-room': 'Press room',
  'put-up': 'Put-up',
  'strong-room': 'Strong room',
  archive: 'Archive',
  scrap: 'Scrap',
  'in-transit': 'In transit',
  'with-supplier': 'Supplier',
  'with-purchaser': 'Purchaser',
  ceased: 'Used up',
  difference: 'Signed difference',
};

/** A place as its sign says it. */
export function placeTitle(place: string): string {
  return (titles as Readonly<Record<string, string>>)[place] ?? place;
}
