import { answerProficiencyRound } from './answer-round.ts';
import { recordProficiencyRound } from './record-round.ts';

export { proficiencyBooks } from './books.ts';
export { proficiencyDocket } from './docket.ts';
export { proficiencyKinds } from './entries.ts';
export { proficiencyQuestions } from './questions.ts';
export { proficiencyRefusals } from './refusals.ts';

export const proficiencyCommands = [recordProficiencyRound, answerProficiencyRound] as const;
