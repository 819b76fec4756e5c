import type { RefusalMeanings } from '../../journal/refusal.ts';

/** The refusals of the search. Where several apply, the one that stands first here is given first. */
export const searchRefusals = {
  PieceStandardUnknown: {
    meaning: 'The piece standard is not in the register.',
    nextStep: 'Choose a registered piece standard.',
  },
  NothingTallied: {
    meaning: 'No place has been tallied for this piece standard since the last close.',
    nextStep: 'Let somebody tally the places first; a search begins from tallies.',
  },
  SearchAlreadyOpen: {
    meaning: 'Pieces of this standard are searched for already.',
    nextStep: 'Go on with the open search; everybody looks in the same one.',
  },
  SearchUnknown: {
    meaning: 'There is no search of that name.',
    nextStep: 'Choose one from the list of searches.',
  },
  SearchOver: {
    meaning: 'The search has ended.',
    nextStep: 'Open a new search where pieces are still missing.',
  },
  LookUnknown: {
    meaning: 'The search does not name this look.',
    nextStep: 'Choose one of the looks of the search; it names them all.',
  },
  FindingNotPossible: {
    meaning: 'What is said to have been found cannot be found by this look.',
    nextStep: 'Choose what the look can show, or leave it open.',
  },
  SightingUnknown: {
    meaning: 'The look that is said to be mistaken is none that found something at this place.',
    nextStep: 'Choose a look of this search that found something here and still stands.',
  },
  SightingUpheld: {
    meaning: 'A look that found something does not show another one to be mistaken.',
    nextStep: 'Say that nothing was found, or record the look by itself.',
  },
  SightingByOneself: {
    meaning: 'A person cannot say alone that his own sighting was mistaken.',
    nextStep: 'Let another person look and record it.',
  },
  CauseNotStated: {
    meaning: 'A confirmed cause is to be named by its kind.',
    nextStep: 'Choose the cause from the list, or state the kind of fault.',
  },
  CauseUnknown: {
    meaning: 'The search knows no suspicion of that name.',
    nextStep: 'Choose one from the list, or leave it open and state the kind of fault.',
  },
} satisfies RefusalMeanings;
