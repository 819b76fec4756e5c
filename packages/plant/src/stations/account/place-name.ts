import { placeName } from '../../journal/place.ts';

export { placeName };

const gone: Readonly<Record<string, string>> = {
  'with-supplier': 'went back to its supplier',
  'with-purchaser': 'went to its purchaser',
  ceased: 'holds no pieces any more',
  difference: 'was signed for as a difference',
};

/** Where something is by the book, as the end of a sentence that begins with its name. */
export const whereItIs = (place: string): string => gone[place] ?? `lies in ${placeName(place)}`;
