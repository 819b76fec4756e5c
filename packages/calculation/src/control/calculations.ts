import { averageRunLengthCalculation } from './average-run-length.ts';
import { capabilityCalculation } from './capability.ts';
import { cusumCalculation } from './cusum.ts';
import { ewmaCalculation } from './ewma.ts';
import { precisionCalculations } from './precision/calculations.ts';
import { shewhartAttributesCalculation } from './shewhart-attributes.ts';
import { shewhartVariablesCalculation } from './shewhart-variables.ts';

/** What the catalogue offers under the topic control. */
export const controlCalculations = [
  averageRunLengthCalculation,
  capabilityCalculation,
  cusumCalculation,
  ewmaCalculation,
  ...precisionCalculations,
  shewhartAttributesCalculation,
  shewhartVariablesCalculation,
] as const;
