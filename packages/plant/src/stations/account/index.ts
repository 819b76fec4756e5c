export { type Audit, type AuditFault, auditAccount } from './auditor.ts';
export { placeName } from './place-name.ts';
export { type PresentAccount, type PresentLine, presentAccount } from './present-lines.ts';
export { maySeeBook, seesBook } from './sees-book.ts';
