import { readFileSync } from 'node:fs';
import { verifyCertificate } from '../stations/certificate/verify-certificate.ts';
import { Unfit } from './unfit.ts';

/** Checks a certificate record and says in words what holds and what does not. */
export async function verify(file: string): Promise<void> {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    throw new Unfit(`${file} cannot be read.`);
  }
  const found = await verifyCertificate(text);
  for (const { holds, words } of found.checks)
    console.log(`${holds ? 'holds   ' : 'DOES NOT'}  ${words}`);
  if (!found.holds) throw new Unfit('The certificate does not hold.');
  console.log('The certificate holds.');
}
