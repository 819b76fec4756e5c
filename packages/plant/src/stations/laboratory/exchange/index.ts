import { chooseDecimalSign } from './choose-decimal-sign.ts';
import { takeBlankSheet, takeCupellationSheet } from './take-worksheet.ts';

export { exchangeBooks } from './books.ts';
export { exchangeKinds } from './entries.ts';
export { exchangePapers } from './papers.ts';
export { exchangeQuestions } from './questions.ts';
export { exchangeRefusals } from './refusals.ts';

export const exchangeCommands = [chooseDecimalSign, takeBlankSheet, takeCupellationSheet] as const;
