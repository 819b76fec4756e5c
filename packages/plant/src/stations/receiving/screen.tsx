import './screens/receiving.css';
import { lazy, Suspense } from 'react';
import { defineScreens, Page, Pending } from '../../workbench/index.ts';
import { DifferencePage } from './difference/screens/difference-page.tsx';
import { DifferencesPage } from './difference/screens/differences-page.tsx';
import { RaiseDifferencePage } from './difference/screens/raise-difference-page.tsx';
import { CertificatePage } from './documents/screens/certificate-page.tsx';
import { FurtherPage } from './further/screens/further-page.tsx';
import { ExchangePage } from './portions/reported/screens/exchange-page.tsx';
import { PortionPage } from './portions/screens/portion-page.tsx';
import { SealPage } from './portions/screens/seal-page.tsx';
import { ShelfPage } from './portions/screens/shelf-page.tsx';
import { ConsignmentPage } from './screens/consignment-page.tsx';
import { PickListPage } from './screens/pick-list-page.tsx';
import { ReceivingDesk } from './screens/receiving-desk.tsx';
import { SeriesPage } from './screens/series-page.tsx';

const station = 'receiving';

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
  { path: '/receiving', station, title: 'Receiving', Component: ReceivingDesk },
  { path: '/receiving/announce', station, title: 'Announce', Component: AnnouncePage },
  {
    path: '/receiving/consignments/$consignment',
    station,
    title: 'Consignment',
    Component: ConsignmentPage,
  },
  {
    path: '/receiving/consignments/$consignment/difference',
    station,
    title: 'Differences',
    Component: RaiseDifferencePage,
  },
  {
    path: '/receiving/consignments/$consignment/certificate',
    station,
    title: 'Certificates',
    Component: CertificatePage,
  },
  { path: '/receiving/differences', station, title: 'Differences', Component: DifferencesPage },
  {
    path: '/receiving/differences/$difference',
    station,
    title: 'Difference',
    Component: DifferencePage,
  },
  { path: '/receiving/portions', station, title: 'Portions', Component: ShelfPage },
  { path: '/receiving/portions/$portion', station, title: 'Portion', Component: PortionPage },
  { path: '/receiving/melts/$melt/portions', station, title: 'Portions', Component: SealPage },
  {
    path: '/receiving/melts/$melt/exchange',
    station,
    title: 'Exchange of assays',
    Component: ExchangePage,
  },
  {
    path: '/receiving/melts/$melt/further',
    station,
    title: 'Further blanks',
    Component: FurtherPage,
  },
  { path: '/receiving/melts/$melt', station, title: 'Pick list', Component: PickListPage },
  {
    path: '/receiving/series/$supplier/$pieceStandard',
    station,
    title: 'Inspection',
    Component: SeriesPage,
  },
]);
