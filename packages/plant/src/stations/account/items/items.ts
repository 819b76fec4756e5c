import { countNumbers } from './count-numbers.ts';
import { receiveNumbers } from './receive-numbers.ts';
import { spoilNumbers } from './spoil-numbers.ts';

/** The commands by which seals and labels with numbers are accounted for. */
export const itemCommands = [receiveNumbers, spoilNumbers, countNumbers] as const;
