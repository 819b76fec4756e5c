import { answerHold } from './answer-hold.ts';
import { determineTitre } from './determine-titre.ts';
import { HoldAnswered } from './hold-entries.ts';
import { TitreDetermined } from './titre-entries.ts';

export { controlBooks } from './books.ts';
export { holdDocket } from './hold-docket.ts';
export { controlQuestions } from './questions.ts';
export { controlRefusals } from './refusals.ts';
export { setAsideDocket } from './set-aside-docket.ts';

export const controlKinds = [HoldAnswered, TitreDetermined] as const;
export const controlCommands = [answerHold, determineTitre] as const;
