import { defineBook } from '../../../journal/books.ts';
import type { Recorded } from '../books.ts';
import type { ProficiencyRoundAnsweredBody, ProficiencyRoundRecordedBody } from './bodies.ts';

export type RoundRow = ProficiencyRoundRecordedBody &
  Recorded & {
    /** What was found about its signals, and by whom; null while nobody has answered. */
    readonly answered: (ProficiencyRoundAnsweredBody & Recorded) | null;
  };

export const proficiencyRounds = defineBook<RoundRow>({
  name: 'laboratory_proficiency_round',
  meaning: 'A round of a comparison of laboratories, how it was judged and what was found.',
  key: ['round'],
  indexes: { byCharacteristic: ['characteristic', 'day', 'entry'] },
});

export const proficiencyBooks = [proficiencyRounds] as const;
