import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import type { RunRow } from './books.ts';
import { RunClosed } from './entries.ts';
import { counterField, runField } from './inputs.ts';
import { runOf } from './queries.ts';
import { pressRoomRefusals } from './refusals.ts';
import { runClosed, runUnknown } from './run-check.ts';

const closeRunInput = z.strictObject({
  run: runField,
  counterAfter: counterField('Counter after', 'What the counter of the press shows now.'),
});

type CloseRunInput = z.infer<typeof closeRunInput>;

function refusalsOf(input: CloseRunInput, run: RunRow): readonly Refusal[] {
  if (run.state === 'closed') return [runClosed(run)];
  const strokes = input.counterAfter - run.counterBefore;
  const figures = {
    run: run.run,
    counterBefore: run.counterBefore,
    counterAfter: input.counterAfter,
    strokes,
    lastStrike: run.lastStrike,
  };
  if (strokes < run.lastStrike) {
    return [
      refuse(pressRoomRefusals, 'CounterDoesNotFit', {
        message: `From ${run.counterBefore} to ${input.counterAfter} the press made ${strokes} strokes, but strike ${run.lastStrike} was examined.`,
        field: 'counterAfter',
        figures,
      }),
    ];
  }
  if (run.lastOccasion === 'last' && strokes === run.lastStrike) return [];
  const message =
    run.lastOccasion === 'last'
      ? `The press made ${strokes} strokes in run ${run.run}; the last strike was number ${run.lastStrike}, so ${strokes - run.lastStrike} pieces after it were not judged.`
      : `Run ${run.run} has no last strike; the strike examined last is number ${run.lastStrike} of ${strokes}.`;
  return [refuse(pressRoomRefusals, 'LastStrikeMissing', { message, field: 'run', figures })];
}

function decide(input: CloseRunInput, run: RunRow | undefined): Decision {
  if (!run) return { refusals: [runUnknown(input.run)] };
  const refusals = refusalsOf(input, run);
  if (refusals.length > 0) return { refusals };
  const { press, melt, obverse, reverse, collar } = run;
  const body = {
    run: run.run,
    press,
    melt,
    obverse,
    reverse,
    collar,
    counterAfter: input.counterAfter,
    strokes: input.counterAfter - run.counterBefore,
  };
  return { entries: [draft(RunClosed, body)] };
}

/** The dies leave the press after the last strike was examined. */
export const closeRun = defineCommand({
  command: 'close-run',
  station: 'press-room',
  title: 'Close run',
  input: closeRunInput,
  roles: ['die keeper', 'inspector'],
  signature: 'author and witness',
  witnessRoles: ['die keeper', 'inspector', 'custodian'],
  facts: (books: BookReader, input: CloseRunInput) => runOf(books, input.run),
  decide,
});
