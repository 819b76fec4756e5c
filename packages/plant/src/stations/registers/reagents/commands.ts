import { refuse } from '../../../journal/refusal.ts';
import { defineCommand, draft } from '../../../journal/station.ts';
import { sha256Schema } from '../reference-materials/bodies.ts';
import { reagentLotCondemned, reagentLotOpened, reagentLotReceived } from './bodies.ts';
import { reagentLots } from './books.ts';
import { ReagentLotCondemned, ReagentLotOpened, ReagentLotReceived } from './entries.ts';
import { unusableLot } from './lot-rules.ts';
import { reagentRefusals } from './refusals.ts';

const station = 'registers';

const receiveReagentLot = defineCommand({
  command: 'receive-reagent-lot',
  station,
  title: 'Receive reagent lot',
  input: reagentLotReceived.extend({ attachmentSha256: sha256Schema.optional() }),
  roles: ['chief assayer', 'assayer'],
  signature: 'none',
  facts: async (books, input) => books.get(reagentLots, input.lot),
  decide: ({ attachmentSha256, ...input }, present) => {
    if (present) {
      const refusal = refuse(reagentRefusals, 'ReagentLotAlreadyReceived', {
        message: `${input.lot} is the id of a lot of ${present.reagent}, entry ${present.entry}.`,
        field: 'lot',
        figures: { lot: input.lot, reagent: present.reagent, entry: present.entry },
      });
      return { refusals: [refusal] };
    }
    const document = attachmentSha256 === undefined ? {} : { attachmentSha256 };
    return { entries: [draft(ReagentLotReceived, { ...input, ...document })] };
  },
});

const openReagentLot = defineCommand({
  command: 'open-reagent-lot',
  station,
  title: 'Open reagent lot',
  input: reagentLotOpened,
  roles: ['chief assayer', 'assayer'],
  signature: 'none',
  facts: async (books, input) => books.get(reagentLots, input.lot),
  decide: (input, row) => {
    const refusals = unusableLot({ id: input.lot, field: 'lot' }, row);
    if (refusals.length > 0 || !row) return { refusals };
    if (row.opened) {
      const { entry } = row.opened;
      const refusal = refuse(reagentRefusals, 'ReagentLotAlreadyOpen', {
        message: `Lot ${input.lot} was opened in entry ${entry}.`,
        field: 'lot',
        figures: { lot: input.lot, entry },
      });
      return { refusals: [refusal] };
    }
    if (input.expires > row.expires) {
      const refusal = refuse(reagentRefusals, 'ExpiryAfterLabel', {
        message: `The label of lot ${input.lot} says ${row.expires}; ${input.expires} is later.`,
        field: 'expires',
        figures: { lot: input.lot, label: row.expires, expires: input.expires },
      });
      return { refusals: [refusal] };
    }
    return { entries: [draft(ReagentLotOpened, input)] };
  },
});

const condemnReagentLot = defineCommand({
  command: 'condemn-reagent-lot',
  station,
  title: 'Condemn reagent lot',
  input: reagentLotCondemned,
  roles: ['chief assayer', 'assayer'],
  signature: 'author',
  facts: async (books, input) => books.get(reagentLots, input.lot),
  decide: (input, row) => {
    const refusals = unusableLot({ id: input.lot, field: 'lot' }, row);
    if (refusals.length > 0) return { refusals };
    return { entries: [draft(ReagentLotCondemned, input)] };
  },
});

export const reagentCommands = [receiveReagentLot, openReagentLot, condemnReagentLot] as const;
