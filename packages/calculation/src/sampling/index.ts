export * from './accept-zero-plan.ts';
export * from './attribute-plan.ts';
export * from './attribute-plan-search.ts';
export * from './attribute-plan-search-schema.ts';
export * from './double-attribute-plan.ts';
export * from './draw.ts';
export * from './earned-credit.ts';
export * from './inspection-severity.ts';
export * from './inspection-severity-schema.ts';
export * from './limiting-quality-plan.ts';
export {
  type NormalityCheckInput,
  type NormalityCheckOutput,
  normalityCheck,
  normalityCheckCalculation,
  normalityCheckInput,
  normalityCheckOutput,
} from './normality-check.ts';
export * from './operating-characteristic.ts';
export * from './operating-characteristic-schema.ts';
export * from './pick-list.ts';
export * from './reduced-inspection-limit.ts';
export * from './sequential-plan.ts';
export * from './switching.ts';
export * from './switching-scheme.ts';
export {
  type VariablesOperatingCharacteristicInput,
  type VariablesOperatingCharacteristicOutput,
  variablesOperatingCharacteristic,
  variablesOperatingCharacteristicCalculation,
  variablesOperatingCharacteristicInput,
  variablesOperatingCharacteristicOutput,
} from './variables-operating-characteristic.ts';
export * from './variables-plan.ts';
export * from './variables-plan-search.ts';
export * from './variables-verdict.ts';
