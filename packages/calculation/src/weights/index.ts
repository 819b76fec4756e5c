export * from './best-target-mass.ts';
export * from './giveaway.ts';
export * from './piece-conformity.ts';
export * from './second-mode.ts';
export * from './sorter-edge.ts';
export * from './truncated-normal.ts';
export * from './two-components.ts';
export * from './weight-statistics.ts';
