import type { Screen } from '../../../../workbench/index.ts';
import { DetermineTitrePage } from './determine-titre-page.tsx';
import { HoldPage } from './hold-page.tsx';

const station = 'laboratory';

/** The pages of the controls. */
export const controlScreens: readonly Screen[] = [
  { path: '/laboratory/holds/$hold', station, title: 'Runs in doubt', Component: HoldPage },
  {
    path: '/laboratory/titrants/$lot',
    station,
    title: 'Titre of a titrant',
    Component: DetermineTitrePage,
  },
];
