import { defineScreens } from '../../workbench/index.ts';
import { LaboratoryDesk } from './screens/laboratory-desk.tsx';
import { MeltPage } from './screens/melt-page.tsx';

export const screens = defineScreens([
  { path: '/laboratory', station: 'laboratory', title: 'Laboratory', Component: LaboratoryDesk },
  { path: '/laboratory/melts/$melt', station: 'laboratory', title: 'Melt', Component: MeltPage },
]);
