export * from './container-evidence.ts';
export * from './entry-faults.ts';
export * from './fault-model.ts';
export * from './fault-posterior.ts';
export * from './fault-rates.ts';
export * from './looking.ts';
