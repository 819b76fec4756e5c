export * from './die-family-comparison.ts';
export * from './die-fault-onset.ts';
export { type DieLife, riskTable } from './die-life.ts';
export * from './die-life-weibull.ts';
export {
  type DieRemainingLifeInput,
  type DieRemainingLifeOutput,
  dieRemainingLife,
  dieRemainingLifeCalculation,
  dieRemainingLifeInput,
  dieRemainingLifeOutput,
} from './die-remaining-life.ts';
export * from './die-survival.ts';
export * from './dies-for-order.ts';
export { weibullData, weibullFit } from './weibull-fit.ts';
