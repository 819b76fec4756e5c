import { receiving } from '../stations/receiving/index.ts';

export const known = receiving;
