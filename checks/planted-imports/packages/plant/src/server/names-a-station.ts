export { receiving } from '../stations/receiving/index.ts';
