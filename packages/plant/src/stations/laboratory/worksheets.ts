import { EdgeMeasured } from './edge/entries.ts';
import { measureEdge } from './edge/measure-edge.ts';
import { examinationBooks } from './examination/books.ts';
import { examinationQuestions } from './examination/questions.ts';
import { examinationRefusals } from './examination/refusals.ts';
import { HardnessMeasured } from './hardness/entries.ts';
import { measureHardness } from './hardness/measure-hardness.ts';
import { StructureExamined } from './structure/entries.ts';
import { examineStructure } from './structure/examine-structure.ts';
import { structureRefusals } from './structure/refusals.ts';
import {
  recordTitration,
  titrationKinds,
  titrationQuestions,
  titrationRefusals,
} from './titration/index.ts';

/** The worksheets that stand in folders of their own, as the station takes them. */
export const worksheetKinds = [
  ...titrationKinds,
  HardnessMeasured,
  StructureExamined,
  EdgeMeasured,
] as const;
export const worksheetBooks = [...examinationBooks] as const;
export const worksheetCommands = [
  recordTitration,
  measureHardness,
  examineStructure,
  measureEdge,
] as const;
export const worksheetQuestions = [...examinationQuestions, ...titrationQuestions] as const;
export const worksheetRefusals = {
  ...titrationRefusals,
  ...examinationRefusals,
  ...structureRefusals,
};
export { examinationDocket as worksheetDocket } from './examination/docket.ts';
