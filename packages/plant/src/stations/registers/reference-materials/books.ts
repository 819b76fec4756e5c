import { defineBook } from '../../../journal/books.ts';
import type { ReferenceMaterialReceived } from './bodies.ts';

export type ReferenceMaterialRow = Readonly<ReferenceMaterialReceived> & {
  readonly massReceivedMicrograms: number;
  /** Never below 0: what is used up is not drawn on. */
  readonly massRemainingMicrograms: number;
  readonly uses: number;
  readonly retired: {
    readonly entry: number;
    readonly instant: string;
    readonly author: string;
    readonly reason: string;
  } | null;
  readonly entry: number;
  readonly since: string;
};

export const referenceMaterials = defineBook<ReferenceMaterialRow>({
  name: 'registers_reference_material',
  meaning: 'A reference material: what is certified of it, and how much is left.',
  key: ['referenceMaterial'],
});

export type ReferenceMaterialUseRow = {
  readonly referenceMaterial: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly massMicrograms: number;
  readonly usedFor: string;
};

export const referenceMaterialUses = defineBook<ReferenceMaterialUseRow>({
  name: 'registers_reference_material_use',
  meaning: 'What was taken of a reference material, and for which run.',
  key: ['referenceMaterial', 'entry'],
});

export const referenceMaterialBooks = [referenceMaterials, referenceMaterialUses] as const;
