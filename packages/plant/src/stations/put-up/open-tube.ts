import { z } from 'zod';
import { refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { type TubeRow, tubes } from './books.ts';
import { TubeOpened } from './entries.ts';
import { putUpRefusals } from './refusals.ts';

const foundAccepted = 'a whole number of pieces, 0 or more';

const openTubeInput = z.strictObject({
  tube: idSchema.meta({ title: 'Tube', description: 'Scan the tube.' }),
  piecesFound: z
    .int(foundAccepted)
    .min(0, foundAccepted)
    .max(10_000, 'at most 10000 pieces')
    .meta({ title: 'Pieces found', description: 'Counted by both of you.', unit: 'pieces' }),
});

type OpenTubeInput = z.infer<typeof openTubeInput>;

function decideOpening(input: OpenTubeInput, tube: TubeRow | undefined): Decision {
  const no = (name: 'TubeUnknown' | 'TubeAlreadyPacked' | 'TubeNotClosed', message: string) => ({
    refusals: [
      refuse(putUpRefusals, name, { message, field: 'tube', figures: { tube: input.tube } }),
    ],
  });
  if (!tube) return no('TubeUnknown', `Tube ${input.tube} has never been weighed.`);
  if (tube.state === 'packed') {
    return no('TubeAlreadyPacked', `Tube ${tube.tube} lies in box ${tube.box}.`);
  }
  if (tube.state === 'open') return no('TubeNotClosed', `Tube ${tube.tube} is open already.`);
  const { filling, melt, pieceStandard, pieces, state } = tube;
  const body = {
    tube: tube.tube,
    filling,
    melt,
    pieceStandard,
    piecesBooked: pieces,
    piecesFound: input.piecesFound,
    stateBefore: state,
  };
  return { entries: [draft(TubeOpened, body)] };
}

/** Opens a tube and counts it by hand, with a second person. */
export const openTube = defineCommand<OpenTubeInput, TubeRow | undefined>({
  command: 'open-tube',
  station: 'put-up',
  title: 'Open tube',
  input: openTubeInput,
  roles: ['custodian', 'inspector'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant', 'chief assayer'],
  facts: (books, input) => books.get(tubes, input.tube),
  decide: decideOpening,
});
