import { z } from 'zod';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { RejectsSetAside } from './entries.ts';
import { balanceField, familyField, grossField, piecesField, runField } from './inputs.ts';
import { instrumentRefusals } from './instrument-check.ts';
import { runUnknown } from './run-check.ts';
import { piecesMoved, type TransferFacts, transferFacts } from './transfer.ts';

const setRejectsAsideInput = z.strictObject({
  run: runField,
  family: familyField,
  pieces: piecesField.meta({
    title: 'Pieces',
    description: 'Rejected pieces, as counted.',
    unit: 'pieces',
  }),
  gross: grossField,
  instrument: balanceField,
});

type SetRejectsAsideInput = z.infer<typeof setRejectsAsideInput>;

/** Rejects may be torn, doubled or bare blanks, so their mass is not held against their number. */
function decide(input: SetRejectsAsideInput, facts: TransferFacts): Decision {
  const { run, standard, balance } = facts;
  const refusals = [
    ...(run ? [] : [runUnknown(input.run)]),
    ...instrumentRefusals(balance, { kinds: ['balance'], field: 'instrument' }),
  ];
  if (refusals.length > 0 || !run || !standard) return { refusals };
  const body = { run: run.run, family: input.family, ...piecesMoved(input, { run, standard }) };
  return { entries: [draft(RejectsSetAside, body, { instrument: input.instrument })] };
}

/** Rejected pieces leave the press room for the scrap; allowed at any time of a run and after it. */
export const setRejectsAside = defineCommand({
  command: 'set-rejects-aside',
  station: 'press-room',
  title: 'Set rejects aside',
  input: setRejectsAsideInput,
  roles: ['inspector', 'die keeper'],
  signature: 'author',
  facts: transferFacts,
  decide,
});
