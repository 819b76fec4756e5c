import type { MethodEditionRow } from '../books.ts';
import type { ListedCalculation } from '../fitting-calculations.ts';

/** What the question `methods` answers. */
export interface MethodsAnswer {
  readonly methods: readonly MethodEditionRow[];
  readonly calculations: readonly ListedCalculation[];
}

/** What the question `method` answers. */
export interface MethodAnswer {
  readonly inForce: MethodEditionRow;
  readonly editions: readonly MethodEditionRow[];
  /** Null where the catalogue has it no more. */
  readonly calculation: ListedCalculation | null;
}
