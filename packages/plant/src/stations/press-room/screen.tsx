import './screens/press-room.css';
import { defineScreens } from '../../workbench/index.ts';
import { HoldPage } from './screens/hold-page.tsx';
import { OpenRunPage } from './screens/open-run-page.tsx';
import { PressRoomDesk } from './screens/press-room-desk.tsx';
import { RunPage } from './screens/run-page.tsx';
import { TakeBlanksPage } from './screens/take-blanks-page.tsx';

const station = 'press-room';

export const screens = defineScreens([
  { path: '/press-room', station, title: 'Press room', Component: PressRoomDesk },
  {
    path: '/press-room/take-blanks',
    station,
    title: 'Take blanks',
    Component: TakeBlanksPage,
  },
  { path: '/press-room/open-run', station, title: 'Open run', Component: OpenRunPage },
  { path: '/press-room/runs/$run', station, title: 'Run', Component: RunPage },
  { path: '/press-room/holds/$hold', station, title: 'Hold', Component: HoldPage },
]);
