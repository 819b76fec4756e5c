import { createHash, timingSafeEqual } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Person } from '../journal/station.ts';
import type { ServerParts } from './parts.ts';

const cookieName = 'cupel-session';

/** A person who is signed in, with the token that every change must carry. */
export interface SignedIn {
  readonly person: Person;
  readonly sessionToken: string;
  readonly changeToken: string;
}

declare module 'fastify' {
  interface FastifyRequest {
    signedIn: SignedIn | undefined;
  }
}

/** The person who is signed in; the guard has made sure that there is one. */
export function personAt(request: FastifyRequest): SignedIn {
  if (!request.signedIn) throw new Error('a route without a session was reached');
  return request.signedIn;
}

/** The token that a page sends with every change: it follows from the session and is no use without it. */
function changeTokenOf(sessionToken: string): string {
  return createHash('sha256').update(`change ${sessionToken}`).digest('base64url');
}

/** Gives the browser the session; scripts cannot read it, and other sites cannot send it. */
export function giveSession(reply: FastifyReply, sessionToken: string, isSecure: boolean): void {
  reply.setCookie(cookieName, sessionToken, {
    path: '/',
    httpOnly: true,
    sameSite: 'strict',
    secure: isSecure,
  });
}

/** Takes the session away from the browser. */
export function takeSession(reply: FastifyReply): void {
  reply.clearCookie(cookieName, { path: '/' });
}

/** Who is signed in by the request's cookie; nothing when nobody is, or the person has left. */
export async function signedInBy(
  request: FastifyRequest,
  parts: ServerParts,
): Promise<SignedIn | undefined> {
  const sessionToken = request.cookies[cookieName];
  if (!sessionToken) return undefined;
  const byHand = request.method !== 'GET' || request.headers['x-cupel-hand'] === 'at work';
  const session = parts.accounts.session(sessionToken, { byHand });
  const person = session && (await parts.person(parts.books, session.person));
  if (!person?.active) return undefined;
  return { person, sessionToken, changeToken: changeTokenOf(sessionToken) };
}

/** Whether a change carries the token of its session. */
export function carriesToken(request: FastifyRequest, signedIn: SignedIn): boolean {
  const sent = Buffer.from(String(request.headers['x-cupel-token'] ?? ''));
  const expected = Buffer.from(signedIn.changeToken);
  return sent.length === expected.length && timingSafeEqual(sent, expected);
}
