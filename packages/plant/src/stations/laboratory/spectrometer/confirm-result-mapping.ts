import { defineCommand, draft } from '../../../journal/station.ts';
import { namedInstrument, unfitInstrument } from '../melt-facts.ts';
import { ResultMappingConfirmed } from './entries.ts';
import { resultMappingConfirmed } from './result-bodies.ts';

/** Confirms how the result files of a spectrometer are read, so that the next one is read the same way. */
export const confirmResultMapping = defineCommand({
  command: 'confirm-result-mapping',
  station: 'laboratory',
  title: 'Confirm the columns of a result file',
  input: resultMappingConfirmed,
  roles: ['assayer', 'chief assayer'],
  signature: 'none',
  facts: (books, { instrument }, { instant }) =>
    namedInstrument(books, { id: instrument, field: 'instrument', instant }),
  decide: (input, named) => {
    const refusals = unfitInstrument(named, ['spectrometer']);
    return refusals.length > 0 ? { refusals } : { entries: [draft(ResultMappingConfirmed, input)] };
  },
});
