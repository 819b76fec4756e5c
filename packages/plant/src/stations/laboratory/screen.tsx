import './screens/laboratory.css';
import { defineScreens } from '../../workbench/index.ts';
import { ChartPage } from './screens/chart-page.tsx';
import { ChartsPage } from './screens/charts-page.tsx';
import { LaboratoryDesk } from './screens/laboratory-desk.tsx';
import { MeltPage } from './screens/melt-page.tsx';

const station = 'laboratory';

export const screens = defineScreens([
  { path: '/laboratory', station, title: 'Laboratory', Component: LaboratoryDesk },
  { path: '/laboratory/melts/$melt', station, title: 'Melt', Component: MeltPage },
  { path: '/laboratory/charts', station, title: 'Control charts', Component: ChartsPage },
  { path: '/laboratory/charts/$chart', station, title: 'Control chart', Component: ChartPage },
]);
