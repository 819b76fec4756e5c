import { recordCalibration, registerInstrument } from './instrument-rules.ts';
import {
  approvePurchaser,
  changePurchaser,
  changeSupplier,
  registerSupplier,
} from './party-rules.ts';
import { changePerson, enrolPerson, foundPlant } from './people-rules.ts';
import { receiveDie, registerPieceStandard } from './piece-rules.ts';

export const registersCommands = [
  foundPlant,
  enrolPerson,
  changePerson,
  registerPieceStandard,
  registerSupplier,
  changeSupplier,
  approvePurchaser,
  changePurchaser,
  registerInstrument,
  recordCalibration,
  receiveDie,
] as const;
