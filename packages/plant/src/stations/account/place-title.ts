const placeTitles: Readonly<Record<string, string>> = {
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
  ceased: 'Ceased to be pieces',
  difference: 'Signed difference',
};

/** A place as its sign says it. */
export const placeTitle = (place: string): string => placeTitles[place] ?? place;
