import { type ComponentType, lazy } from 'react';
import type { Screen, ScreenProps } from '../../../../workbench/index.ts';
import { WhileLoading } from '../../exchange/screens/while-loading.tsx';

const station = 'laboratory';

/** A page that is loaded where it is used: drawing on photographs is no part of the first load. */
function loaded(title: string, load: () => Promise<ComponentType<ScreenProps>>) {
  const Loaded = lazy(async () => ({ default: await load() }));
  return (props: ScreenProps) => (
    <WhileLoading title={title}>
      <Loaded {...props} />
    </WhileLoading>
  );
}

/** The pages on which hardness, structure and edge are examined and looked at. */
export const examinationScreens: readonly Screen[] = [
  {
    path: '/laboratory/melts/$melt/hardness',
    sheets: ['measure-hardness'],
    station,
    title: 'Hardness',
    Component: loaded(
      'Hardness',
      async () => (await import('../../hardness/screens/hardness-page.tsx')).HardnessPage,
    ),
  },
  {
    path: '/laboratory/melts/$melt/structure',
    sheets: ['examine-structure'],
    station,
    title: 'Structure',
    Component: loaded(
      'Structure',
      async () => (await import('../../structure/screens/structure-page.tsx')).StructurePage,
    ),
  },
  {
    path: '/laboratory/melts/$melt/edge',
    sheets: ['measure-edge'],
    station,
    title: 'Edge',
    Component: loaded(
      'Edge',
      async () => (await import('../../edge/screens/edge-page.tsx')).EdgePage,
    ),
  },
  {
    path: '/laboratory/melts/$melt/examinations/$entry',
    station,
    title: 'Examination',
    Component: loaded(
      'Examination',
      async () => (await import('./examination-shown-page.tsx')).ExaminationShownPage,
    ),
  },
];
