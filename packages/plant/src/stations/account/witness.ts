import type { Role } from '../../journal/station.ts';

/** Who may be the second person in the account: all but the auditor, who writes nothing. */
export const witnessRoles: readonly Role[] = [
  'metal accountant',
  'custodian',
  'inspector',
  'assayer',
  'die keeper',
  'chief assayer',
];
