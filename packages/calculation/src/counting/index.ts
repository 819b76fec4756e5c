export * from './box-against-tubes-entry.ts';
export * from './count-by-weight.ts';
export * from './count-of-series.ts';
export * from './mean-mass-drift.ts';
export * from './provable-count.ts';
