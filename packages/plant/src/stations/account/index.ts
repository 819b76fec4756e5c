export { type Audit, type AuditFault, auditAccount } from './auditor.ts';
