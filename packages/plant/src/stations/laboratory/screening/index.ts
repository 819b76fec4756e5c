import { answerScreening } from './answer-screening.ts';
import { screenByDensity } from './screen-by-density.ts';
import { screenByFluorescence } from './screen-by-fluorescence.ts';

export { screeningBooks } from './books.ts';
export { screeningDocket } from './docket.ts';
export { screeningKinds } from './entries.ts';
export { screeningQuestions } from './questions.ts';
export { screeningRefusals } from './refusals.ts';

export const screeningCommands = [screenByFluorescence, screenByDensity, answerScreening] as const;
