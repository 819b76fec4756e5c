import { lazy, Suspense } from 'react';
import { defineScreens, Page, Pending } from '../../workbench/index.ts';
import { ConsignmentPage } from './screens/consignment-page.tsx';
import { PickListPage } from './screens/pick-list-page.tsx';
import { ReceivingDesk } from './screens/receiving-desk.tsx';

// The reader of packing lists brings every schema with it, so it is loaded where it is used.
const LoadedAnnouncePage = lazy(async () => ({
  default: (await import('./screens/announce-page.tsx')).AnnouncePage,
}));

function AnnouncePage() {
  const waiting = (
    <Page title="Announce consignment">
      <Pending />
    </Page>
  );
  return (
    <Suspense fallback={waiting}>
      <LoadedAnnouncePage />
    </Suspense>
  );
}

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
