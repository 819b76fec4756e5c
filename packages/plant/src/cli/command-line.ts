import { Command, CommanderError } from 'commander';
import { Unfit } from './unfit.ts';

const dataOption = ['--data <folder>', 'folder of the plant'] as const;

/** The commands that compute; they never open a plant. */
function calculationCommands(program: Command): void {
  const calc = program.command('calc').description('the calculations of the catalogue');
  calc
    .command('list')
    .description('every calculation: id, topic and title')
    .action(async () => (await import('./calculations.ts')).listCalculations());
  calc
    .command('describe <id>')
    .description('a calculation with its source, its schemas and a worked example, as JSON')
    .action(async (id: string) => (await import('./calculations.ts')).describe(id));
  calc
    .command('run <id> <file>')
    .description('runs a calculation on a JSON file, or on the standard input when the file is -')
    .action(async (id: string, file: string) => (await import('./calculations.ts')).run(id, file));
}

function journalCommands(program: Command): void {
  const journal = program.command('journal').description('the journal of a plant and its books');
  journal
    .command('verify')
    .description('checks every hash, link, posting and signed head; names the first bad entry')
    .requiredOption(...dataOption)
    .action(async ({ data }) => (await import('./journal.ts')).verify(data));
  journal
    .command('rebuild')
    .description('makes the books anew from the journal')
    .requiredOption(...dataOption)
    .option('--check', 'changes nothing; compares the books with the live ones, table by table')
    .action(async ({ data, check }) =>
      (await import('./journal.ts')).rebuild(data, check === true),
    );
}

function keepingCommands(program: Command): void {
  program
    .command('backup <target>')
    .description(
      'copies a plant, also while it is served, into a new folder, and verifies the copy',
    )
    .requiredOption(...dataOption)
    .action(async (target: string, { data }) => (await import('./backup.ts')).backup(data, target));
  program
    .command('restore <source>')
    .description('makes a plant from a backup in a new folder, and verifies it')
    .requiredOption(...dataOption)
    .action(async (source: string, { data }) =>
      (await import('./backup.ts')).restore(source, data),
    );
  program
    .command('verify <file>')
    .description('checks a certificate record: signatures, proofs, and every figure computed again')
    .action(async (file: string) => (await import('./certificate.ts')).verify(file));
}

function plantCommands(program: Command): void {
  program
    .command('init')
    .description('makes a new plant and a one-time code for its first chief assayer')
    .requiredOption(...dataOption)
    .requiredOption('--plant <id>', 'id of the plant: small letters, digits and hyphens')
    .requiredOption('--title <title>', 'name of the plant as people read it')
    .requiredOption('--time-zone <zone>', 'where the plant stands, such as Europe/Vienna')
    .requiredOption('--person <id>', 'sign-in name of the first chief assayer')
    .requiredOption('--name <name>', 'his name')
    .action(async (options) => (await import('./plant.ts')).init(options));
  program
    .command('serve')
    .description('serves the workbench of a plant on the loopback address')
    .requiredOption(...dataOption)
    .option('--port <number>', 'port; 4600 when left out', '4600')
    .action(async ({ data, port }) => (await import('./plant.ts')).serve(data, port));
  program
    .command('demo')
    .description('makes a demonstration plant: two weeks of invented work, with planted faults')
    .requiredOption(...dataOption)
    .option('--seed <number>', 'same seed and same day, same journal', '1')
    .option('--day <day>', 'the last day it tells, as 2026-11-24; yesterday when left out')
    .action(async ({ data, seed, day }) =>
      (await import('./demonstration.ts')).demo({ folder: data, seed, day }),
    );
}

/** Runs the command line. A refusal leaves with 1, wrong words with 2. */
export async function runCommandLine(words: readonly string[]): Promise<void> {
  const program = new Command('cupel')
    .description('The record and the calculating desk of a plant that strikes precious metal')
    .exitOverride()
    .showHelpAfterError();
  calculationCommands(program);
  journalCommands(program);
  keepingCommands(program);
  plantCommands(program);
  // Every command ends the same way: for commander's own errors, too, the status is set and not forced.
  for (const command of program.commands) {
    command.exitOverride();
    for (const inner of command.commands) inner.exitOverride();
  }
  try {
    await program.parseAsync([...words]);
  } catch (error) {
    process.exitCode = statusOf(error);
  }
}

function statusOf(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  if (error instanceof Unfit) {
    console.error(error.message);
    return error.status;
  }
  const { name, message } = error as Error;
  if (error instanceof RangeError || ['BooksOutdated', 'StoreFull', 'StoreHeld'].includes(name)) {
    console.error(message);
    return 1;
  }
  throw error;
}
