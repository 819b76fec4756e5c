import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { DrumState } from './bodies.ts';
import type { Consignment, Drum } from './books.ts';
import { receivingRefusals } from './refusals.ts';

export function consignmentUnknown(consignment: string): Refusal {
  return refuse(receivingRefusals, 'ConsignmentUnknown', {
    message: `No consignment ${consignment} has been announced.`,
    field: 'consignment',
    figures: { consignment },
  });
}

export function meltUnknown(melt: string): Refusal {
  return refuse(receivingRefusals, 'MeltUnknown', {
    message: `No melt ${melt} has been announced.`,
    field: 'melt',
    figures: { melt },
  });
}

export function drumUnknown(drum: string): Refusal {
  return refuse(receivingRefusals, 'DrumUnknown', {
    message: `No drum ${drum} has been announced.`,
    field: 'drum',
    figures: { drum },
  });
}

const nextSteps: Readonly<Record<DrumState, string>> = {
  announced: 'Check its seal and weigh it.',
  'weigh again': 'Set the balance to zero and weigh the drum again.',
  'needs tally': 'Count its pieces by hand, two people.',
  counted: 'Its count is proved; go on with the next drum.',
  tallied: 'Its count is settled; go on with the next drum.',
  stopped: 'Let the chief assayer admit it or send it back.',
  returned: 'The drum has gone back; nothing is left to do with it.',
};

/** What is next with a drum in that state. */
export function nextStepOfDrum(state: DrumState): string {
  return nextSteps[state];
}

/** A refusal unless the drum is in one of the states in which the act is done. */
export function stateRefusal(
  drum: Drum,
  accepted: readonly DrumState[],
  act: string,
): Refusal | undefined {
  if (accepted.includes(drum.state)) return undefined;
  return refuse(receivingRefusals, 'DrumStateUnfit', {
    message: `Drum ${drum.drum} is in the state ${drum.state}; a drum is ${act} when it is in the state ${accepted.join(' or ')}.`,
    field: 'drum',
    figures: { drum: drum.drum, state: drum.state, accepted: [...accepted] },
    nextStep: nextSteps[drum.state],
  });
}

/** A refusal when the consignment's samples have been ordered: its drums stay as they are then. */
export function orderedRefusal(consignment: Consignment): Refusal | undefined {
  if (consignment.state === 'announced') return undefined;
  return refuse(receivingRefusals, 'SamplesAlreadyOrdered', {
    message: `The samples of consignment ${consignment.consignment} have been ordered.`,
    figures: { consignment: consignment.consignment, state: consignment.state },
  });
}
