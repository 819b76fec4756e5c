import { drawFurtherBlanks } from './draw.ts';
import { substituteFurtherPick } from './substitute.ts';
import { takeFurtherBlanks } from './take.ts';

export const furtherCommands = [
  drawFurtherBlanks,
  substituteFurtherPick,
  takeFurtherBlanks,
] as const;
