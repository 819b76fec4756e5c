import { defineScreens } from '../../workbench/index.ts';
import { RegisterPage } from './screens/register-page.tsx';
import { RegistersDesk } from './screens/registers-desk.tsx';

export const screens = defineScreens([
  { path: '/registers', station: 'registers', title: 'Registers', Component: RegistersDesk },
  { path: '/registers/$list', station: 'registers', title: 'Register', Component: RegisterPage },
  {
    path: '/registers/$list/$id',
    station: 'registers',
    title: 'Register',
    Component: RegisterPage,
  },
]);
