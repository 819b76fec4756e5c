import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import type { RunRow } from './books.ts';
import { PiecesDelivered } from './entries.ts';
import { balanceField, grossField, meltField, piecesField, runField } from './inputs.ts';
import { instrumentRefusals } from './instrument-check.ts';
import { piecesByMassRefusals } from './pieces-by-mass.ts';
import { holdsOfRun, metalHoldsOfMelt } from './queries.ts';
import { pressRoomRefusals } from './refusals.ts';
import { runUnknown } from './run-check.ts';
import { piecesDeliverable } from './strike-ranges.ts';
import { piecesMoved, type TransferFacts, transferFacts } from './transfer.ts';

const deliverPiecesInput = z.strictObject({
  melt: meltField,
  run: runField,
  pieces: piecesField,
  gross: grossField,
  instrument: balanceField,
});

type DeliverPiecesInput = z.infer<typeof deliverPiecesInput>;

interface DeliveryFacts extends TransferFacts {
  /** Open holds that cover the run, and those of the metal of its melt. */
  readonly openHolds: readonly string[];
}

async function facts(
  books: BookReader,
  input: DeliverPiecesInput,
  circumstances: Circumstances,
): Promise<DeliveryFacts> {
  const found = await transferFacts(books, input, circumstances);
  const ofRun = (await holdsOfRun(books, input.run)).filter((row) => row.state === 'open');
  const ofMetal = found.run ? await metalHoldsOfMelt(books, found.run.melt) : [];
  const names = [...ofRun, ...ofMetal].map((row) => row.hold);
  return { ...found, openHolds: [...new Set(names)] };
}

function runRefusals(
  input: DeliverPiecesInput,
  found: { run: RunRow; openHolds: readonly string[] },
): readonly Refusal[] {
  const { run, openHolds } = found;
  if (run.melt !== input.melt) {
    return [
      refuse(pressRoomRefusals, 'MeltDiffers', {
        message: `Run ${run.run} strikes melt ${run.melt}, not ${input.melt}.`,
        field: 'melt',
        figures: { run: run.run, melt: run.melt },
      }),
    ];
  }
  if (!run.firstApproved) {
    return [
      refuse(pressRoomRefusals, 'FirstStrikeNotApproved', {
        message: `Run ${run.run} has no approved first strike; none of its pieces may leave.`,
        field: 'run',
        figures: { run: run.run },
      }),
    ];
  }
  if (openHolds.length > 0) {
    return [
      refuse(pressRoomRefusals, 'RunOnHold', {
        message: `Pieces of run ${run.run} are held: ${openHolds.join(', ')}.`,
        field: 'run',
        figures: { run: run.run, holds: [...openHolds] },
      }),
    ];
  }
  const deliverable = piecesDeliverable(run);
  if (input.pieces <= deliverable) return [];
  return [
    refuse(pressRoomRefusals, 'PiecesNotJudged', {
      message: `${input.pieces} pieces would leave run ${run.run}; ${deliverable} may: ${run.judgedUpTo} stand before a judged strike, ${run.piecesDelivered} have left, ${run.piecesRejected} are rejects.`,
      field: 'pieces',
      figures: {
        run: run.run,
        pieces: input.pieces,
        piecesDeliverable: deliverable,
        judgedUpTo: run.judgedUpTo,
        piecesDelivered: run.piecesDelivered,
        piecesRejected: run.piecesRejected,
      },
    }),
  ];
}

function decide(input: DeliverPiecesInput, found: DeliveryFacts): Decision {
  const { run, standard, balance, openHolds } = found;
  const moved = { pieces: input.pieces, grossMicrograms: readingMicrograms(input.gross) };
  const refusals = [
    ...(run ? runRefusals(input, { run, openHolds }) : [runUnknown(input.run)]),
    ...instrumentRefusals(balance, { kinds: ['balance'], field: 'instrument' }),
    ...(standard ? piecesByMassRefusals(standard, moved) : []),
  ];
  if (refusals.length > 0 || !run || !standard) return { refusals };
  const { obverse, reverse, collar } = run;
  const body = {
    run: run.run,
    obverse,
    reverse,
    collar,
    ...piecesMoved(input, { run, standard }),
  };
  return { entries: [draft(PiecesDelivered, body, { instrument: input.instrument })] };
}

/**
 * Struck pieces leave the press room. The sender signs that they left; until put-up signs that they
 * came, they are in transit.
 */
export const deliverPieces = defineCommand({
  command: 'deliver-pieces',
  station: 'press-room',
  title: 'Send pieces to put-up',
  input: deliverPiecesInput,
  roles: ['inspector', 'custodian'],
  signature: 'author',
  facts,
  decide,
});
