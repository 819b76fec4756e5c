import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of racks. */
export const rackRefusals = {
  RackAlreadyOpened: {
    meaning: 'A rack has this name already.',
    nextStep: 'Choose another name; each rack of the plant has its own.',
  },
  RackUnknown: {
    meaning: 'No rack has this name.',
    nextStep: 'Scan the label of the rack, or open it first.',
  },
  ContainerElsewhere: {
    meaning: 'The container is unknown, or does not lie at the place of the rack.',
    nextStep: 'Look up the code of the container; record its move first where one was forgotten.',
  },
  ContainerNamedTwice: {
    meaning: 'A container stands more than once in the list.',
    nextStep: 'Scan each container once.',
  },
} as const satisfies RefusalMeanings;
