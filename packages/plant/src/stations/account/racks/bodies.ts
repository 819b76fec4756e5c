import { z } from 'zod';
import { insidePlaces } from '../../../journal/place.ts';
import { tallyLine } from '../bodies.ts';

const containers = z.array(z.string());

export const rackOpened = z.strictObject({
  rack: z.string(),
  place: z.enum(insidePlaces),
  title: z.string(),
});

export const containersPutAway = z.strictObject({
  rack: z.string(),
  place: z.enum(insidePlaces),
  /** Each with what it is: a box, a drum. */
  containers: z.array(z.strictObject({ thing: z.string(), container: z.string() })).min(1),
});

export const rackChecked = z.strictObject({
  rack: z.string(),
  place: z.enum(insidePlaces),
  /** Containers whose labels were scanned. */
  found: containers,
  /** Those that should lie there and were not scanned. */
  missing: containers,
  /** Those that were scanned and should lie elsewhere. */
  strange: containers,
});

export const rackCounted = z.strictObject({
  rack: z.string(),
  place: z.enum(insidePlaces),
  lines: z.array(tallyLine),
});

export type RackCounted = z.infer<typeof rackCounted>;
export type RackOpened = z.infer<typeof rackOpened>;
export type ContainersPutAway = z.infer<typeof containersPutAway>;
export type RackChecked = z.infer<typeof rackChecked>;
