import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of drawing and taking further blanks. */
export const furtherRefusals = {
  FurtherBlanksNotAsked: {
    meaning: 'The laboratory has not asked for further blanks of the melt, or they were taken.',
    nextStep: 'Let an assayer ask for further blanks on the page of the melt.',
  },
  FurtherBlanksNotDrawn: {
    meaning: 'The places of the further blanks have not been drawn.',
    nextStep: 'Draw the further blanks first; then take those on the list.',
  },
  FurtherBlanksAlreadyDrawn: {
    meaning: 'The places of the further blanks have been drawn; a second draw would be a choice.',
    nextStep: 'Take the blanks on the list.',
  },
  TooFewBlanksLeft: {
    meaning: 'The drums of the melt hold fewer blanks than are asked for.',
    nextStep: 'Let the chief assayer rule on the melt as it stands, or hand it to the umpire.',
  },
  MeltInWork: {
    meaning:
      'Blanks of the melt have left receiving for the press room, so that its drums cannot be counted from their lists any more.',
    nextStep: 'Bring them back to receiving before further blanks are drawn.',
  },
} satisfies RefusalMeanings;
