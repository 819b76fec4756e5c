import { discardPortion, keepPortion, openPortion, returnPortion } from './keep.ts';
import { sealPortions } from './seal.ts';
import { sendPortion, takeBackPortion } from './send.ts';

export const portionCommands = [
  sealPortions,
  sendPortion,
  takeBackPortion,
  openPortion,
  returnPortion,
  discardPortion,
  keepPortion,
] as const;
