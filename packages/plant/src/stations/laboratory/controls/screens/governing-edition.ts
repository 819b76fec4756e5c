import type { MethodEdition } from '../../../registers/index.ts';

/** The edition of a method under which the next run would be recorded, as its page tells. */
export type GoverningEdition = Pick<
  MethodEdition,
  | 'method'
  | 'edition'
  | 'title'
  | 'scope'
  | 'determinationsAtLeast'
  | 'referenceMaterials'
  | 'blanks'
  | 'reagents'
>;
