export * from './alloy-density.ts';
export * from './dimension-conformity.ts';
export * from './grain-size.ts';
export * from './hydrostatic-density.ts';
export * from './vickers.ts';
