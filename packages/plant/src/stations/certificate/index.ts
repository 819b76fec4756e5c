export type { CertificateContent } from './content.ts';
export { certifiedBoxOf } from './read-model.ts';
export {
  type CertificateCheck,
  type CertificateVerification,
  type VerifyOptions,
  verifyCertificate,
} from './verify-certificate.ts';
