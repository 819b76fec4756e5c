export * from './algebra.ts';
export * from './block-evaluator.ts';
export * from './block-propagation.ts';
export * from './combine-results.ts';
export * from './contributions.ts';
export * from './correlation.ts';
export * from './coverage.ts';
export * from './derivatives.ts';
export * from './deviates.ts';
export * from './figures.ts';
export * from './input-moments.ts';
export {
  type InputDistribution,
  type InputQuantity,
  inputDistribution,
  inputQuantity,
} from './input-quantity-schema.ts';
export * from './input-sampler.ts';
export * from './model-text.ts';
export * from './monte-carlo.ts';
export * from './numerical-tolerance.ts';
export * from './propagation.ts';
export * from './random-words.ts';
export * from './shared-sources.ts';
export * from './simulated-trials.ts';
export * from './simulation.ts';
export * from './sorted-sample.ts';
export * from './text-model.ts';
export * from './uncertainty-budget.ts';
