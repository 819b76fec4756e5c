import type { Screen } from '../../../workbench/index.ts';
import { laterPage } from './later-page.tsx';

const station = 'registers';

/** The registers that stand behind the laboratory: methods, reference materials, reagents. */
export const laboratoryRegisterScreens: readonly Screen[] = [
  {
    path: '/registers/methods',
    station,
    title: 'Methods',
    Component: laterPage(
      'Methods',
      async () => (await import('../methods/screens/methods-page.tsx')).MethodsPage,
    ),
  },
  {
    path: '/registers/state-method',
    station,
    title: 'State a method',
    Component: laterPage(
      'State a method',
      async () => (await import('../methods/screens/state-method-page.tsx')).StateMethodPage,
    ),
  },
  {
    path: '/registers/methods/$method',
    station,
    title: 'Method',
    Component: laterPage(
      'Method',
      async () => (await import('../methods/screens/method-page.tsx')).MethodPage,
    ),
  },
  {
    path: '/registers/reference-materials',
    station,
    title: 'Reference materials',
    Component: laterPage(
      'Reference materials',
      async () => (await import('../reference-materials/screens/materials-page.tsx')).MaterialsPage,
    ),
  },
  {
    path: '/registers/receive-reference-material',
    station,
    title: 'Receive a reference material',
    Component: laterPage(
      'Receive a reference material',
      async () =>
        (await import('../reference-materials/screens/receive-material-page.tsx'))
          .ReceiveMaterialPage,
    ),
  },
  {
    path: '/registers/reference-materials/$referenceMaterial',
    station,
    title: 'Reference material',
    Component: laterPage(
      'Reference material',
      async () => (await import('../reference-materials/screens/material-page.tsx')).MaterialPage,
    ),
  },
  {
    path: '/registers/reagents',
    station,
    title: 'Reagents',
    Component: laterPage(
      'Reagents',
      async () => (await import('../reagents/screens/reagents-page.tsx')).ReagentsPage,
    ),
  },
  {
    path: '/registers/receive-reagent-lot',
    station,
    title: 'Receive a lot of a reagent',
    Component: laterPage(
      'Receive a lot of a reagent',
      async () => (await import('../reagents/screens/receive-lot-page.tsx')).ReceiveLotPage,
    ),
  },
  {
    path: '/registers/reagents/$lot',
    station,
    title: 'Reagent lot',
    Component: laterPage(
      'Reagent lot',
      async () => (await import('../reagents/screens/lot-page.tsx')).LotPage,
    ),
  },
];
