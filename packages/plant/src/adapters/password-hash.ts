import { type Argon2Parameters, argon2, randomBytes, timingSafeEqual } from 'node:crypto';
import { promisify } from 'node:util';

const run = promisify(
  argon2 as (
    algorithm: 'argon2id',
    parameters: Argon2Parameters,
    callback: (error: Error | null, hash: Buffer) => void,
  ) => void,
);

/** What one hash costs. */
export interface HashCost {
  readonly memoryKibibytes: number;
  readonly passes: number;
}

/**
 * More than the least that the OWASP password storage cheat sheet asks of argon2id (19 MiB, two
 * passes): about a tenth of a second on a machine of the plant's kind.
 */
export const strongCost: HashCost = { memoryKibibytes: 48 * 1024, passes: 3 };

const tagLength = 32;

function derive(password: string, nonce: Buffer, cost: HashCost): Promise<Buffer> {
  return run('argon2id', {
    message: Buffer.from(password.normalize('NFKC')),
    nonce,
    parallelism: 1,
    tagLength,
    memory: cost.memoryKibibytes,
    passes: cost.passes,
  });
}

/** The hash of a password with a fresh nonce, in the text form that argon2 programs share. */
export async function hashPassword(password: string, cost: HashCost): Promise<string> {
  const nonce = randomBytes(16);
  const hash = await derive(password, nonce, cost);
  const text = (bytes: Buffer) => bytes.toString('base64').replace(/=+$/, '');
  return `$argon2id$v=19$m=${cost.memoryKibibytes},t=${cost.passes},p=1$${text(nonce)}$${text(hash)}`;
}

/** Whether the password is the one of that hash; takes the same time for both answers. */
export async function isPasswordOf(password: string, hash: string): Promise<boolean> {
  const [, memory, passes, nonce, tag] =
    /^\$argon2id\$v=19\$m=(\d+),t=(\d+),p=1\$([^$]+)\$([^$]+)$/.exec(hash) ?? [];
  if (!memory || !passes || !nonce || !tag) throw new RangeError('a password hash is malformed');
  const cost = { memoryKibibytes: Number(memory), passes: Number(passes) };
  const found = await derive(password, Buffer.from(nonce, 'base64'), cost);
  const expected = Buffer.from(tag, 'base64');
  return expected.length === found.length && timingSafeEqual(expected, found);
}
