import type { MethodEditionRow } from '../books.ts';

/** What the question `methods` answers. */
export interface MethodsAnswer {
  readonly methods: readonly MethodEditionRow[];
  readonly calculations: readonly {
    readonly id: string;
    readonly title: string;
    readonly cautions: readonly string[];
  }[];
}

/** What the question `method` answers. */
export interface MethodAnswer {
  readonly inForce: MethodEditionRow;
  readonly editions: readonly MethodEditionRow[];
}
