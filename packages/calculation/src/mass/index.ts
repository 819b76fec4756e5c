export * from './air-density.ts';
export * from './balance-check.ts';
export * from './balance-uncertainty.ts';
export * from './buoyancy.ts';
export {
  type BuoyancyDensities,
  conventionalMass,
  massOfReading,
  readingOfMass,
} from './buoyant-mass.ts';
export * from './convert-mass.ts';
export * from './fine-mass.ts';
export * from './least-weighable-mass.ts';
export * from './mass-comparison.ts';
export { type MassUnit, massUnits } from './mass-units.ts';
export { type AirState, moistAirDensity, simplifiedAirDensity } from './moist-air.ts';
export { postingFineMicrograms } from './posting-fine-mass.ts';
export * from './scale-limits.ts';
export * from './weight-drift.ts';
export { likeliestJump, type WeightJump } from './weight-jump.ts';
export * from './weight-limits.ts';
