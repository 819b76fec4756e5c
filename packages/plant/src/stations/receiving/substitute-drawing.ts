import type { DrawInput, DrawOutput } from '@cupel/calculation';
import { z } from 'zod';
import { type Calculated, calculate } from '../../journal/calculated.ts';
import { sha256Hex } from '../../journal/entry.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { idSchema, reasonSchema } from '../registers/index.ts';
import { pickRefusals } from './pick-refusals.ts';

const from = ['the same drum', 'the other drums'] as const;

export const substituteInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'Whose sample is being taken.' }),
  blank: idSchema.meta({ title: 'Pick', description: 'The blank that cannot be taken.' }),
  from: z.enum(from, `one of ${from.join(', ')}`).meta({
    title: 'Instead from',
    description: 'Which place is drawn; nobody chooses it.',
  }),
  reason: reasonSchema.meta({ title: 'Reason', description: 'Why the drawn blank is not taken.' }),
});

export type SubstituteInput = z.infer<typeof substituteInput>;

interface Place {
  readonly drum: string;
  readonly position: number;
}

interface FreePlaces {
  readonly drum: string;
  readonly positions: readonly number[];
}

/** Places of those drums that no pick has, and none had before it was substituted. */
export function freePlaces(
  among: readonly { readonly drum: string; readonly pieces: number }[],
  taken: readonly Place[],
): readonly FreePlaces[] {
  return among.map(({ drum, pieces }) => {
    const own = new Set(
      taken.filter((place) => place.drum === drum).map(({ position }) => position),
    );
    const positions = Array.from({ length: pieces }, (_, index) => index + 1).filter(
      (position) => !own.has(position),
    );
    return { drum, positions };
  });
}

/** Draws one of the free places from the seed of the draw; each substitution draws anew. */
export function drawSubstitute(
  seed: string,
  free: readonly FreePlaces[],
  at: { readonly blank: string; readonly time: number },
): { readonly place: Place; readonly calculated: Calculated } {
  const input: DrawInput = {
    seed: sha256Hex(`${seed} substitute ${at.blank} ${at.time}`),
    containers: free.map(({ drum, positions }) => ({ container: drum, pieces: positions.length })),
    sampleSizePieces: 1,
  };
  const { calculated, output } = calculate<DrawOutput>('draw', input);
  const [pick] = output.picks;
  const positions = free.find(({ drum }) => drum === pick?.container)?.positions ?? [];
  // The draw counts the free places of the drum; the blank lies at the place so counted.
  const position = positions[(pick?.position ?? 1) - 1] ?? 0;
  return { place: { drum: pick?.container ?? '', position }, calculated };
}

export function pickUnknown({ melt, blank }: SubstituteInput): Refusal {
  return refuse(pickRefusals, 'PickUnknown', {
    message: `${blank} is no pick of melt ${melt}.`,
    field: 'blank',
    figures: { melt, blank },
  });
}

export function noPlace(input: SubstituteInput, { drum }: { readonly drum: string }): Refusal {
  const { blank } = input;
  return refuse(pickRefusals, 'NoPlaceForSubstitute', {
    message: `No place is left for ${blank} in ${input.from === 'the same drum' ? `drum ${drum}` : 'the other drums of its melt'}.`,
    field: 'from',
    figures: { blank, drum, from: input.from },
  });
}
