import { dispatchBoxes } from './dispatch-boxes.ts';
import { issueCertificate } from './issue-certificate.ts';
import { withdrawCertificate } from './withdraw-certificate.ts';

/** The commands of the certificate desk. */
export const certificateCommands = [issueCertificate, withdrawCertificate, dispatchBoxes] as const;
