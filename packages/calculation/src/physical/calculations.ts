import { alloyDensityCalculation } from './alloy-density.ts';
import { dimensionConformityCalculation } from './dimension-conformity.ts';
import { grainSizeCalculation } from './grain-size.ts';
import { hydrostaticDensityCalculation } from './hydrostatic-density.ts';
import { vickersCalculation } from './vickers.ts';

/** What the catalogue offers under the topic physical. */
export const physicalCalculations = [
  alloyDensityCalculation,
  dimensionConformityCalculation,
  grainSizeCalculation,
  hydrostaticDensityCalculation,
  vickersCalculation,
] as const;
