import { moistAirDensity } from '../../src/mass/moist-air.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly count: number;
}

export const row: BenchRow<Data> = {
  what: 'air density CIPM-2007 of 1,000,000 conditions',
  data: () => ({ count: 1_000_000 }),
  work: ({ count }) => {
    let sum = 0;
    let squares = 0;
    let greatest = 0;
    for (let at = 0; at < count; at += 1) {
      const density = moistAirDensity({
        temperatureCelsius: 15 + (at % 121) / 10,
        pressurePascals: 60_000 + (at % 5003) * 9.9,
        humidityFraction: (at % 101) / 100,
        carbonDioxideFraction: 0.0004 + (at % 7) * 1e-5,
      });
      sum += density;
      squares += density * density;
      if (density > greatest) greatest = density;
    }
    return [sum, squares, greatest];
  },
  tolerance: 1e-10,
};
