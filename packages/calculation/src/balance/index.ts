export * from './balance-series.ts';
export * from './metal-balance.ts';
