import { confirmResultMapping } from './confirm-result-mapping.ts';
import { recordResultFile } from './record-result-file.ts';

export { spectrometerBooks } from './books.ts';
export { spectrometerKinds } from './entries.ts';
export { spectrometerQuestions } from './questions.ts';
export { spectrometerRefusals } from './refusals.ts';

export const spectrometerCommands = [confirmResultMapping, recordResultFile] as const;
