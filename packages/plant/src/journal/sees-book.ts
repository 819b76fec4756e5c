import type { Inquirer, Role } from './station.ts';

/** Who may see what should lie at a place. Those who count do not, so that they count. */
export const seesBook: readonly Role[] = ['metal accountant', 'chief assayer', 'auditor'];

/** Whether the person may see the book. */
export const maySeeBook = (inquirer: Pick<Inquirer, 'person'>): boolean =>
  inquirer.person.roles.some((role) => seesBook.includes(role));
