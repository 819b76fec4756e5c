export { titrationKinds } from './entries.ts';
export { titrationQuestions } from './questions.ts';
export { recordTitration } from './record-titration.ts';
export { titrationRefusals } from './refusals.ts';
