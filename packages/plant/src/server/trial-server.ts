import type { FastifyInstance } from 'fastify';
import { coreQuestions } from '../journal/core-questions.ts';
import { registerStations } from '../journal/plant.ts';
import type { Person, Station } from '../journal/station.ts';
import { makeTrial, type Trial, trialPeople } from '../journal/trial.ts';
import { trialStation } from '../journal/trial-station.ts';
import type { Accounts } from '../ports/accounts.ts';
import type { Attachments } from '../ports/attachments.ts';
import type { ServerParts } from './parts.ts';
import { makeServer } from './server.ts';

/** The password of everybody on trial. */
export const trialPassword = 'three drums of blanks';

/** A server on trial: the real one, on a memory store and the trial station. */
export interface TrialServer {
  readonly server: FastifyInstance;
  readonly trial: Trial;
  /** Signs a person in; answers the headers that his requests carry. */
  signIn(person: string): Promise<{ cookie: string; 'x-cupel-token': string }>;
}

/** Starts a server on trial. Accounts and attachments are those that the test brings. */
export async function startTrialServer(options: {
  readonly accounts: Accounts;
  readonly attachments: Attachments;
  readonly stations?: readonly Station[];
  readonly more?: Partial<ServerParts>;
}): Promise<TrialServer> {
  const stations = [trialStation, ...(options.stations ?? [])];
  const trial = await makeTrial(stations);
  const registry = registerStations(stations);
  const person = async (_books: unknown, id: string): Promise<Person | undefined> => {
    const roles = trialPeople[id];
    return roles && { person: id, name: id, roles, active: true };
  };
  const server = await makeServer({
    plant: 'trial',
    plantTitle: async () => 'Plant on trial',
    reader: trial.store.reader,
    books: trial.books,
    registry,
    recorder: trial.recorder,
    accounts: options.accounts,
    attachments: options.attachments,
    signer: trial.signer,
    clock: { now: () => trial.now },
    person,
    coreQuestions: coreQuestions({ stations, reader: trial.store.reader, kind: registry.kind }),
    log: 'nothing',
    ...options.more,
  });
  return { server, trial, signIn: (id) => signIn(server, id) };
}

async function signIn(server: FastifyInstance, person: string) {
  const signedIn = await server.inject({
    method: 'POST',
    url: '/api/sign-in',
    payload: { person, password: trialPassword },
  });
  const [cookie] = String(signedIn.headers['set-cookie']).split(';');
  if (signedIn.statusCode !== 200 || !cookie) throw new Error(signedIn.body);
  const session = await server.inject({ url: '/api/session', headers: { cookie } });
  return { cookie, 'x-cupel-token': String(session.json().token) };
}
