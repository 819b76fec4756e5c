import type { ReferenceMaterialRow, ReferenceMaterialUseRow } from '../books.ts';

/** What the question `reference-materials` answers. */
export interface MaterialsAnswer {
  readonly day: string;
  readonly referenceMaterials: readonly ReferenceMaterialRow[];
}

/** What the question `reference-material` answers. */
export interface MaterialAnswer {
  readonly day: string;
  readonly row: ReferenceMaterialRow;
  readonly uses: readonly ReferenceMaterialUseRow[];
}
