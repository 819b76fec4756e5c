import './screens/account.css';
import { defineScreens } from '../../workbench/index.ts';
import { BalanceDesk } from './screens/balance-desk.tsx';
import { DifferencePage } from './screens/difference-page.tsx';
import { HistoryPage } from './screens/history-page.tsx';
import { ItemsPage } from './screens/items-page.tsx';
import { PeriodPage } from './screens/period-page.tsx';
import { PlacePage } from './screens/place-page.tsx';
import { RacksPage } from './screens/racks-page.tsx';
import { ShiftPage } from './screens/shift-page.tsx';

export const screens = defineScreens([
  { path: '/account', station: 'account', title: 'Account', Component: BalanceDesk },
  { path: '/account/places/$place', station: 'account', title: 'Place', Component: PlacePage },
  { path: '/account/shifts/$shift', station: 'account', title: 'Shift', Component: ShiftPage },
  { path: '/account/periods/$period', station: 'account', title: 'Period', Component: PeriodPage },
  { path: '/account/racks', station: 'account', title: 'Racks', Component: RacksPage },
  { path: '/account/items', station: 'account', title: 'Seals and labels', Component: ItemsPage },
  {
    path: '/account/history/$place/$standard',
    station: 'account',
    title: 'History',
    Component: HistoryPage,
  },
  {
    path: '/account/differences/$difference',
    station: 'account',
    title: 'Difference',
    Component: DifferencePage,
  },
]);
