export { clock } from '../../adapters/clock.ts';
