import { lazy } from 'react';
import type { Screen, ScreenProps } from '../../../../workbench/index.ts';
import { WhileLoading } from '../../exchange/screens/while-loading.tsx';

const title = 'Screening';

const LoadedScreening = lazy(async () => ({
  default: (await import('./screening-page.tsx')).ScreeningPage,
}));

function MeltScreeningPage(props: ScreenProps) {
  return (
    <WhileLoading title={title}>
      <LoadedScreening {...props} />
    </WhileLoading>
  );
}

export const screeningScreens: readonly Screen[] = [
  {
    path: '/laboratory/melts/$melt/screening',
    station: 'laboratory',
    title,
    Component: MeltScreeningPage,
  },
];
