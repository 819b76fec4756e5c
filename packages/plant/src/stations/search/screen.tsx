import './screens/search.css';
import { defineScreens } from '../../workbench/index.ts';
import { SearchDesk } from './screens/search-desk.tsx';
import { SearchPage } from './screens/search-page.tsx';

export const screens = defineScreens([
  { path: '/search', station: 'search', title: 'Search', Component: SearchDesk },
  { path: '/search/$search', station: 'search', title: 'Search', Component: SearchPage },
]);
