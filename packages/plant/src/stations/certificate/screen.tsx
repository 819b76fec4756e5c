import { defineScreens } from '../../workbench/index.ts';
import { CertificateDesk } from './screens/certificate-desk.tsx';
import { CertificatePage } from './screens/certificate-page.tsx';
import { DispatchPage } from './screens/dispatch-page.tsx';
import { IssuePage } from './screens/issue-page.tsx';
import { VerifyPage } from './screens/verify-page.tsx';

export const screens = defineScreens([
  {
    path: '/certificate',
    station: 'certificate',
    title: 'Strong room',
    Component: CertificateDesk,
  },
  { path: '/certificate/issue', station: 'certificate', title: 'Issue', Component: IssuePage },
  {
    path: '/certificate/dispatch',
    station: 'certificate',
    title: 'Dispatch',
    Component: DispatchPage,
  },
  { path: '/certificate/verify', station: 'certificate', title: 'Verify', Component: VerifyPage },
  {
    path: '/certificate/certificates/$certificate',
    station: 'certificate',
    title: 'Certificate',
    Component: CertificatePage,
  },
]);
