import { defineScreens } from '../../workbench/index.ts';
import { ConnectInstrumentPage } from './screens/connect-instrument-page.tsx';
import { ReceiveDiePage } from './screens/die-page.tsx';
import { EnrolPersonPage } from './screens/enrol-person-page.tsx';
import { InstrumentPage } from './screens/instrument-page.tsx';
import { laboratoryRegisterScreens } from './screens/laboratory-registers.tsx';
import {
  ApprovePurchaserPage,
  PurchaserPage,
  RegisterSupplierPage,
  SupplierPage,
} from './screens/party-page.tsx';
import { PersonPage } from './screens/person-page.tsx';
import { PieceStandardPage } from './screens/piece-standard-page.tsx';
import { RegisterInstrumentPage } from './screens/register-instrument-page.tsx';
import { RegisterPieceStandardPage } from './screens/register-piece-standard-page.tsx';
import { RegistersDesk } from './screens/registers-desk.tsx';

const station = 'registers';

export const screens = defineScreens([
  { path: '/registers', station, title: 'Registers', Component: RegistersDesk },
  {
    path: '/registers/enrol-person',
    station,
    title: 'Enrol a person',
    Component: EnrolPersonPage,
  },
  { path: '/registers/people/$person', station, title: 'Person', Component: PersonPage },
  {
    path: '/registers/register-piece-standard',
    station,
    title: 'Register a piece standard',
    Component: RegisterPieceStandardPage,
  },
  {
    path: '/registers/piece-standards/$pieceStandard',
    station,
    title: 'Piece standard',
    Component: PieceStandardPage,
  },
  {
    path: '/registers/register-supplier',
    station,
    title: 'Register a supplier',
    Component: RegisterSupplierPage,
  },
  { path: '/registers/suppliers/$supplier', station, title: 'Supplier', Component: SupplierPage },
  {
    path: '/registers/approve-purchaser',
    station,
    title: 'Approve a purchaser',
    Component: ApprovePurchaserPage,
  },
  {
    path: '/registers/purchasers/$purchaser',
    station,
    title: 'Purchaser',
    Component: PurchaserPage,
  },
  {
    path: '/registers/register-instrument',
    station,
    title: 'Register an instrument',
    Component: RegisterInstrumentPage,
  },
  {
    path: '/registers/instruments/$instrument',
    station,
    title: 'Instrument',
    Component: InstrumentPage,
  },
  ...laboratoryRegisterScreens,
  {
    path: '/registers/instruments/$instrument/line',
    station,
    title: 'Line of an instrument',
    Component: ConnectInstrumentPage,
  },
  { path: '/registers/receive-die', station, title: 'Receive a die', Component: ReceiveDiePage },
]);
