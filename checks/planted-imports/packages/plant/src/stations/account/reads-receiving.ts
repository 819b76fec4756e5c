export { receiving } from '../receiving/index.ts';
