import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { founderId } from '../main/founder.ts';
import { makePlantFolder, openPlant } from '../main/plant.ts';
import { demonstrationNote, serverOf } from '../main/serve.ts';
import { Unfit } from './unfit.ts';

/** Makes a plant: its folder and key, its founding entries, and the first one-time code. */
export async function init(options: {
  data: string;
  plant: string;
  title: string;
  timeZone: string;
  person: string;
  name: string;
}): Promise<void> {
  const { data, plant: id, title, timeZone, person, name } = options;
  try {
    new Intl.DateTimeFormat('en', { timeZone });
  } catch {
    throw new Unfit(`--time-zone is ${timeZone}; accepted: a name such as Europe/Vienna`, 2);
  }
  if (!/^[a-z][a-z0-9-]{1,39}$/.test(id)) {
    throw new Unfit(
      `--plant is ${id}; accepted: 2 to 40 small letters, digits and hyphens, a letter first`,
      2,
    );
  }
  makePlantFolder(data, { plant: id, timeZone });
  const plant = await openPlant(data);
  const outcome = await plant.recorder.record({
    command: 'found-plant',
    input: { title, timeZone, firstPerson: { person, name } },
    author: founderId,
    signed: true,
    idempotencyKey: 'found-plant',
  });
  if (outcome.outcome === 'refused') {
    await plant.close();
    throw new Unfit(outcome.refusals.map(({ message }) => message).join('\n'));
  }
  const { code, until } = await plant.accounts.makeCode(person);
  await plant.close();
  console.log(`${title} is founded in ${data}.`);
  console.log(`One-time code of ${name} (sign-in name ${person}): ${code}`);
  console.log(`It is good once, until ${new Date(until).toISOString()}.`);
  console.log(`Serve the plant with: cupel serve --data ${join(data)}`);
}

/** Serves a plant on the loopback address until it is told to stop. */
export async function serve(folder: string, portText: string): Promise<void> {
  const port = Number(portText);
  if (!Number.isInteger(port) || port < 0 || port > 65535) {
    throw new Unfit(`--port is ${portText}; accepted: a whole number from 0 to 65535`, 2);
  }
  const plant = await openPlant(folder);
  const server = await serverOf(plant);
  try {
    await server.listen({ host: '127.0.0.1', port });
  } catch (error) {
    await plant.close();
    if ((error as { code?: string }).code !== 'EADDRINUSE') throw error;
    throw new Unfit(`Port ${port} is taken by another program; choose another with --port.`);
  }
  const { port: taken } = server.server.address() as AddressInfo;
  console.log(`\nThe workbench is served at http://127.0.0.1:${taken}`);
  printSignIns(folder);
  const stop = async () => {
    await server.close();
    await plant.close();
    process.exit(0);
  };
  process.once('SIGINT', stop);
  process.once('SIGTERM', stop);
}

function printSignIns(folder: string): void {
  const note = demonstrationNote(folder);
  if (!note) return;
  console.log('\nThis is a demonstration. Its people and their passwords:');
  for (const { person, role, password } of note.signIns) {
    console.log(`  ${person.padEnd(9)} ${password.padEnd(22)} ${role}`);
  }
  console.log('');
}
