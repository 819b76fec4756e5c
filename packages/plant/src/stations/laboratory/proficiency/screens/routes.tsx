import { lazy } from 'react';
import type { Screen, ScreenProps } from '../../../../workbench/index.ts';
import { WhileLoading } from '../../exchange/screens/while-loading.tsx';

const station = 'laboratory';

const LoadedRounds = lazy(async () => ({
  default: (await import('./proficiency-page.tsx')).ProficiencyPage,
}));
const LoadedRecording = lazy(async () => ({
  default: (await import('./record-round-page.tsx')).RecordRoundPage,
}));
const LoadedRound = lazy(async () => ({ default: (await import('./round-page.tsx')).RoundPage }));

function RoundsPage() {
  return (
    <WhileLoading title="Laboratory comparisons">
      <LoadedRounds />
    </WhileLoading>
  );
}

function RecordingPage() {
  return (
    <WhileLoading title="Record a round">
      <LoadedRecording />
    </WhileLoading>
  );
}

function OneRoundPage(props: ScreenProps) {
  return (
    <WhileLoading title="Round">
      <LoadedRound {...props} />
    </WhileLoading>
  );
}

export const proficiencyScreens: readonly Screen[] = [
  {
    path: '/laboratory/proficiency',
    station,
    title: 'Laboratory comparisons',
    Component: RoundsPage,
  },
  {
    path: '/laboratory/proficiency/record',
    station,
    title: 'Record a round',
    Component: RecordingPage,
  },
  { path: '/laboratory/proficiency/$round', station, title: 'Round', Component: OneRoundPage },
];
