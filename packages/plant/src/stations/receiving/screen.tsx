import { defineScreens } from '../../workbench/index.ts';
import { AnnouncePage } from './screens/announce-page.tsx';
import { ConsignmentPage } from './screens/consignment-page.tsx';
import { PickListPage } from './screens/pick-list-page.tsx';
import { ReceivingDesk } from './screens/receiving-desk.tsx';

export const screens = defineScreens([
  { path: '/receiving', station: 'receiving', title: 'Receiving', Component: ReceivingDesk },
  { path: '/receiving/announce', station: 'receiving', title: 'Announce', Component: AnnouncePage },
  {
    path: '/receiving/consignments/$consignment',
    station: 'receiving',
    title: 'Consignment',
    Component: ConsignmentPage,
  },
  {
    path: '/receiving/melts/$melt',
    station: 'receiving',
    title: 'Pick list',
    Component: PickListPage,
  },
]);
