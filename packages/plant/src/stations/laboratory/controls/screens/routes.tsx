import type { Screen } from '../../../../workbench/index.ts';
import { DetermineTitrePage } from './determine-titre-page.tsx';
import { HoldPage } from './hold-page.tsx';
import { HoldsPage } from './holds-page.tsx';

const station = 'laboratory';

/** The pages of the controls. */
export const controlScreens: readonly Screen[] = [
  { path: '/laboratory/holds', station, title: 'Results in doubt', Component: HoldsPage },
  { path: '/laboratory/holds/$hold', station, title: 'Results in doubt', Component: HoldPage },
  {
    path: '/laboratory/titrants/$lot',
    station,
    title: 'Titre of a titrant',
    Component: DetermineTitrePage,
  },
];
