import { defineBook } from '../../../journal/books.ts';
import type { MethodStated } from './bodies.ts';

export type MethodEditionRow = Readonly<MethodStated> & {
  readonly metal: string;
  readonly entry: number;
  readonly since: string;
  readonly author: string;
};

export const methodEditions = defineBook<MethodEditionRow>({
  name: 'registers_method_edition',
  meaning: 'An edition of a method, as it was stated.',
  key: ['method', 'edition'],
});

export const methodsInForce = defineBook<MethodEditionRow>({
  name: 'registers_method',
  meaning: 'The newest edition of each method, which is in force.',
  key: ['method'],
  indexes: { byAssay: ['assayMethod', 'metal', 'method'] },
});

export const methodBooks = [methodEditions, methodsInForce] as const;
