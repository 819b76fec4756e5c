import { takenOut } from './books.ts';
import { MetalTakenOut } from './entries.ts';
import { takeOutMetal } from './take-out-metal.ts';

export { metalQuestions } from './questions.ts';
export { metalRefusals } from './refusals.ts';

export const metalKinds = [MetalTakenOut] as const;
export const metalBooks = [takenOut] as const;
export const metalCommands = [takeOutMetal] as const;
