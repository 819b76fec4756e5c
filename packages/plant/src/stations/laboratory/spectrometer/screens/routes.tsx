import { lazy } from 'react';
import type { Screen, ScreenProps } from '../../../../workbench/index.ts';
import { WhileLoading } from '../../exchange/screens/while-loading.tsx';

const station = 'laboratory';
const title = 'Result file';

const LoadedTaking = lazy(async () => ({
  default: (await import('./take-result-file.tsx')).TakeResultFile,
}));
const LoadedFile = lazy(async () => ({
  default: (await import('./result-file-page.tsx')).ResultFilePage,
}));

function TakingPage(props: ScreenProps) {
  return (
    <WhileLoading title={title}>
      <LoadedTaking {...props} />
    </WhileLoading>
  );
}

function FilePage(props: ScreenProps) {
  return (
    <WhileLoading title={title}>
      <LoadedFile {...props} />
    </WhileLoading>
  );
}

export const spectrometerScreens: readonly Screen[] = [
  {
    path: '/laboratory/melts/$melt/result-file',
    station,
    title,
    Component: TakingPage,
    sheets: ['record-result-file'],
  },
  { path: '/laboratory/result-files/$run', station, title, Component: FilePage },
];
