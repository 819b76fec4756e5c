import type { Drawing } from '../../../../workbench/index.ts';
import type { ScreeningRow } from '../books.ts';

/** A screening as the question `melt-screenings` answers it. */
export type ShownScreening = ScreeningRow & { readonly drawings: readonly Drawing[] };
