import { defineScreens } from '../../workbench/index.ts';
import { BoxPage } from './screens/box-page.tsx';
import { PackBoxPage } from './screens/pack-box-page.tsx';
import { PutUpDesk } from './screens/put-up-desk.tsx';
import { TubePage } from './screens/tube-page.tsx';
import { WeighTubePage } from './screens/weigh-tube-page.tsx';

export const screens = defineScreens([
  { path: '/put-up', station: 'put-up', title: 'Put-up', Component: PutUpDesk },
  { path: '/put-up/weigh', station: 'put-up', title: 'Weigh tube', Component: WeighTubePage },
  { path: '/put-up/pack', station: 'put-up', title: 'Pack box', Component: PackBoxPage },
  { path: '/put-up/tubes/$tube', station: 'put-up', title: 'Tube', Component: TubePage },
  { path: '/put-up/boxes/$box', station: 'put-up', title: 'Box', Component: BoxPage },
]);
