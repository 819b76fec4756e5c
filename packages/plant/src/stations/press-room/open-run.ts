import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { type Die, dieOf, type Instrument, idSchema, instrumentOf } from '../registers/index.ts';
import {
  type DieRow,
  diesUsed,
  type MeltRow,
  meltsTaken,
  type PressRow,
  presses,
} from './books.ts';
import { RunOpened } from './entries.ts';
import { counterField, meltField, runField } from './inputs.ts';
import { runOf } from './queries.ts';
import { pressRoomRefusals } from './refusals.ts';
import { type MeltFacts, meltFacts, meltRefusals } from './take-blanks.ts';

const parts = ['obverse', 'reverse', 'collar'] as const;
type Part = (typeof parts)[number];

const dieField = (part: Part) =>
  idSchema.meta({ title: `Die: ${part}`, description: `The id engraved on the ${part}.` });

const openRunInput = z.strictObject({
  run: runField,
  press: idSchema.meta({ title: 'Press', description: 'The id on the plate of the press.' }),
  obverse: dieField('obverse'),
  reverse: dieField('reverse'),
  collar: dieField('collar'),
  melt: meltField,
  counterBefore: counterField('Counter before', 'What the counter of the press shows now.'),
});

type OpenRunInput = z.infer<typeof openRunInput>;

interface DieFacts {
  readonly part: Part;
  readonly named: string;
  readonly die: Die | undefined;
  readonly used: DieRow | undefined;
}

interface OpenRunFacts {
  readonly isNameUsed: boolean;
  readonly melt: MeltFacts;
  readonly taken: MeltRow | undefined;
  readonly press: Instrument | undefined;
  readonly pressUsed: PressRow | undefined;
  readonly dies: readonly DieFacts[];
}

async function facts(books: BookReader, input: OpenRunInput): Promise<OpenRunFacts> {
  const dies: DieFacts[] = [];
  for (const part of parts) {
    const named = input[part];
    const die = await dieOf(books, named);
    dies.push({ part, named, die, used: await books.get(diesUsed, named) });
  }
  return {
    isNameUsed: (await runOf(books, input.run)) !== undefined,
    melt: await meltFacts(books, input.melt),
    taken: await books.get(meltsTaken, input.melt),
    press: await instrumentOf(books, input.press),
    pressUsed: await books.get(presses, input.press),
    dies,
  };
}

function dieRefusals(found: DieFacts, pieceStandard: string | undefined): readonly Refusal[] {
  const { part, named, die, used } = found;
  if (!die) {
    const message = `No ${part} ${named} was received.`;
    const figures = { die: named };
    return [refuse(pressRoomRefusals, 'DieUnknown', { message, field: part, figures })];
  }
  if (die.part !== part || (pieceStandard !== undefined && die.pieceStandard !== pieceStandard)) {
    return [
      refuse(pressRoomRefusals, 'DieDoesNotFit', {
        message: `${named} is the ${die.part} of ${die.pieceStandard}; wanted is the ${part} of ${pieceStandard}.`,
        field: part,
        figures: { die: named, part: die.part, pieceStandard: die.pieceStandard },
      }),
    ];
  }
  if (!used?.openRun) return [];
  return [
    refuse(pressRoomRefusals, 'DieInUse', {
      message: `${named} is in run ${used.openRun}, which is open.`,
      field: part,
      figures: { die: named, run: used.openRun },
    }),
  ];
}

function pressRefusals(input: OpenRunInput, found: OpenRunFacts): readonly Refusal[] {
  const { press } = input;
  if (found.press?.kind !== 'press') {
    const message = `${press} ${found.press ? `is a ${found.press.kind}` : 'is not registered'}; a run is opened in a press.`;
    const figures = { press };
    return [refuse(pressRoomRefusals, 'PressUnknown', { message, field: 'press', figures })];
  }
  const openRun = found.pressUsed?.openRun;
  if (!openRun) return [];
  return [
    refuse(pressRoomRefusals, 'PressOccupied', {
      message: `Run ${openRun} is open in press ${press}.`,
      field: 'press',
      figures: { press, run: openRun },
    }),
  ];
}

function refusalsOf(input: OpenRunInput, found: OpenRunFacts): readonly Refusal[] {
  if (found.isNameUsed) {
    const message = `A run ${input.run} was opened before.`;
    const figures = { run: input.run };
    return [refuse(pressRoomRefusals, 'RunAlreadyOpened', { message, field: 'run', figures })];
  }
  const melt = meltRefusals(found.melt);
  const notTaken =
    melt.length === 0 && !found.taken
      ? [
          refuse(pressRoomRefusals, 'MeltNotTaken', {
            message: `No blanks of melt ${input.melt} have come to the press room.`,
            field: 'melt',
            figures: { melt: input.melt },
          }),
        ]
      : [];
  const standard = found.melt.standard?.pieceStandard;
  return [
    ...melt,
    ...notTaken,
    ...pressRefusals(input, found),
    ...found.dies.flatMap((die) => dieRefusals(die, standard)),
  ];
}

/** Strokes between two runs; null where the press has no earlier run or its counter was set back. */
function strokesSinceLastRun(input: OpenRunInput, found: OpenRunFacts): number | null {
  const counter = found.pressUsed?.counter;
  if (counter === undefined || counter > input.counterBefore) return null;
  return input.counterBefore - counter;
}

function decide(input: OpenRunInput, found: OpenRunFacts): Decision {
  const refusals = refusalsOf(input, found);
  const standard = found.melt.standard;
  if (refusals.length > 0 || !standard) return { refusals };
  const body = {
    ...input,
    metal: standard.metal,
    pieceStandard: standard.pieceStandard,
    strokesSinceLastRun: strokesSinceLastRun(input, found),
  };
  return { entries: [draft(RunOpened, body)], answer: { run: input.run } };
}

/** A die pair and collar go into a press for one melt: issued under two signatures, like metal. */
export const openRun = defineCommand({
  command: 'open-run',
  station: 'press-room',
  title: 'Open run',
  input: openRunInput,
  roles: ['die keeper', 'inspector'],
  signature: 'author and witness',
  witnessRoles: ['die keeper', 'inspector', 'custodian'],
  facts,
  decide,
});
