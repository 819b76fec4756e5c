import './exchange/screens/exchange.css';
import './screens/laboratory.css';
import './titration/screens/titration.css';
import './examination/screens/examination.css';
import { defineScreens } from '../../workbench/index.ts';
import { controlScreens } from './controls/screens/routes.tsx';
import { examinationScreens } from './examination/screens/routes.tsx';
import { exchangeScreens } from './exchange/screens/routes.tsx';
import { MetalPage } from './metal/screens/metal-page.tsx';
import { proficiencyScreens } from './proficiency/screens/routes.tsx';
import { screeningScreens } from './screening/screens/routes.tsx';
import { ChartPage } from './screens/chart-page.tsx';
import { ChartsPage } from './screens/charts-page.tsx';
import { LaboratoryDesk } from './screens/laboratory-desk.tsx';
import { MeltPage } from './screens/melt-page.tsx';
import { spectrometerScreens } from './spectrometer/screens/routes.tsx';

const station = 'laboratory';

export const screens = defineScreens([
  { path: '/laboratory', station, title: 'Laboratory', Component: LaboratoryDesk },
  {
    path: '/laboratory/melts/$melt',
    station,
    title: 'Melt',
    Component: MeltPage,
    sheets: ['measure-blanks', 'record-cupellation', 'record-difference', 'record-titration'],
  },
  { path: '/laboratory/charts', station, title: 'Control charts', Component: ChartsPage },
  { path: '/laboratory/charts/$chart', station, title: 'Control chart', Component: ChartPage },
  { path: '/laboratory/metal', station, title: 'Metal of the laboratory', Component: MetalPage },
  ...controlScreens,
  ...examinationScreens,
  ...spectrometerScreens,
  ...exchangeScreens,
  ...proficiencyScreens,
  ...screeningScreens,
]);
