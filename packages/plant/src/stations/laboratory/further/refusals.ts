import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of asking for further blanks. */
export const furtherRefusals = {
  FurtherBlanksNotNeeded: {
    meaning: 'Nothing calls for further blanks: no determination of the melt leaves it undecided.',
    nextStep: 'Go on with the blanks that were drawn for assay.',
  },
  BlanksForAssayLeft: {
    meaning: 'Blanks that were drawn for assay are whole and lie in the laboratory.',
    nextStep: 'Cut the blanks named first; ask for further ones where they do not decide the melt.',
  },
  CutBlanksNotAssayed: {
    meaning: 'Blanks of the melt are cut, and no determination was made of them yet.',
    nextStep:
      'Assay the blanks named first; ask for further ones where they do not decide the melt.',
  },
  TooManyFurtherBlanks: {
    meaning: 'More blanks are asked for than determinations may still be added to the melt.',
    nextStep: 'Ask for as many as may still be added, or for fewer.',
  },
  FurtherBlanksOnTheWay: {
    meaning: 'Further blanks of the melt are asked for and have not come to the laboratory yet.',
    nextStep:
      'Let the inspector take those on the list; ask again afterwards where more are needed.',
  },
} satisfies RefusalMeanings;
