import './screens/laboratory.css';
import { defineScreens } from '../../workbench/index.ts';
import { LaboratoryDesk } from './screens/laboratory-desk.tsx';
import { MeltPage } from './screens/melt-page.tsx';

const station = 'laboratory';

export const screens = defineScreens([
  { path: '/laboratory', station, title: 'Laboratory', Component: LaboratoryDesk },
  { path: '/laboratory/melts/$melt', station, title: 'Melt', Component: MeltPage },
]);
