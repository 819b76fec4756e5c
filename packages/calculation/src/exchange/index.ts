export * from './assay-exchange.ts';
export * from './claim-clock.ts';
export * from './laboratory-difference.ts';
export * from './supplier-bias.ts';
