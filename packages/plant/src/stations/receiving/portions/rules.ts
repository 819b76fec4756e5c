import { refusingFarDays } from '../../registers/index.ts';
import { discardPortion, keepPortion, openPortion, returnPortion } from './keep.ts';
import { reportedCommands } from './reported/rules.ts';
import { sealPortions } from './seal.ts';
import { sendPortion, takeBackPortion } from './send.ts';

const commands = [
  sealPortions,
  sendPortion,
  takeBackPortion,
  openPortion,
  returnPortion,
  discardPortion,
  keepPortion,
  ...reportedCommands,
] as const;

export const portionCommands = commands.map(refusingFarDays);
