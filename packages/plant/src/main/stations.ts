import type { Station } from '../journal/station.ts';
import { accountStation } from '../stations/account/station.ts';
import { certificateStation } from '../stations/certificate/station.ts';
import { laboratoryStation } from '../stations/laboratory/station.ts';
import { pressRoomStation } from '../stations/press-room/station.ts';
import { putUpStation } from '../stations/put-up/station.ts';
import { receivingStation } from '../stations/receiving/station.ts';
import { registersStation } from '../stations/registers/station.ts';
import { searchStation } from '../stations/search/station.ts';

/** The stations of the plant, in the order in which the metal flows. */
export const stations: readonly Station[] = [
  registersStation,
  receivingStation,
  laboratoryStation,
  pressRoomStation,
  putUpStation,
  accountStation,
  searchStation,
  certificateStation,
];
