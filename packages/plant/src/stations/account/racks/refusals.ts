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
    nextStep:
      'Scan the box or drum itself, not what lies in it; record its move first where one was forgotten.',
  },
  ContainerNamedTwice: {
    meaning: 'A container stands more than once in the list.',
    nextStep: 'Scan each container once.',
  },
  PlaceWithoutRacks: {
    meaning: 'The place holds no rack.',
    nextStep: 'Record the tally of the place as one.',
  },
  RackNotCounted: {
    meaning: 'A rack of the place has not been counted since the last close.',
    nextStep: 'Count the rack; where nothing lies in it, record that.',
  },
  RackCountOutdated: {
    meaning: 'Containers of the rack were moved after it was counted.',
    nextStep: 'Count the rack once more.',
  },
} as const satisfies RefusalMeanings;
