export * from './metal-balance.ts';
