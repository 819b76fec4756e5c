import { lazy } from 'react';
import type { Screen, ScreenProps } from '../../../../workbench/index.ts';
import { ExchangePage } from './exchange-page.tsx';
import { WhileLoading } from './while-loading.tsx';

const station = 'laboratory';
const title = 'Worksheets';

const LoadedWorksheets = lazy(async () => ({
  default: (await import('./worksheet-page.tsx')).WorksheetPage,
}));

function WorksheetsPage(props: ScreenProps) {
  return (
    <WhileLoading title={title}>
      <LoadedWorksheets {...props} />
    </WhileLoading>
  );
}

export const exchangeScreens: readonly Screen[] = [
  { path: '/laboratory/tables', station, title: 'Tables as files', Component: ExchangePage },
  { path: '/laboratory/melts/$melt/worksheets', station, title, Component: WorksheetsPage },
];
