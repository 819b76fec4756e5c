import { type Refusal, type RefusalMeanings, refuse } from '../journal/refusal.ts';
import type { NoReading, Taken } from '../ports/instrument-line.ts';

/** What is refused of readings that come by an instrument's line. */
export const instrumentRefusals = {
  InstrumentNotConnected: {
    meaning: 'The instrument stands on no line, or its line is lost.',
    nextStep: 'See to its cable and its power; it is found again by itself. Or type the reading.',
  },
  InstrumentBusy: {
    meaning: 'Somebody else waits for a reading of the instrument.',
    nextStep: 'Wait until the other reading is taken.',
  },
  InstrumentSilent: {
    meaning: 'The instrument sent nothing within the time.',
    nextStep: 'Press its print key, or see whether it is switched on and sends at all.',
  },
  InstrumentUnstable: {
    meaning: 'The value did not become stable within the time.',
    nextStep: 'Keep draught and touch away, wait for the sign of stability, and take it again.',
  },
  InstrumentOverloaded: {
    meaning: 'The load lies outside the range of the instrument.',
    nextStep: 'Take the load off and measure it on another instrument.',
  },
  LineNotUnderstood: {
    meaning: 'What the instrument sent is not of the shape that the register states.',
    nextStep: 'Take it again; if it stays so, let the chief assayer compare the line’s settings.',
  },
  ReadingUnchanged: {
    meaning:
      'The instrument has said the same since its last reading: the load is the same, or the display is stuck.',
    nextStep: 'Take the load off, see the display change, and put it on again.',
  },
  ReceivedLineUnknown: {
    meaning: 'The reading names a line that the plant has not received in the last 400 days.',
    nextStep: 'Take the reading again, or type it.',
  },
  ReceivedLineDiffers: {
    meaning: 'The reading is not what stands in the line that it names.',
    nextStep: 'Take the reading again.',
  },
  ReceivedFromAnother: {
    meaning: 'The reading came from another instrument than the one that is named.',
    nextStep: 'Name the instrument that sent it, or take the reading again.',
  },
  ReceivedLineTwice: {
    meaning: 'Two readings of one act come from the same line: one load would count as two.',
    nextStep: 'Take the second reading again.',
  },
} satisfies RefusalMeanings;

export type InstrumentRefusal = keyof typeof instrumentRefusals;

const names: Readonly<Record<NoReading, InstrumentRefusal>> = {
  'not connected': 'InstrumentNotConnected',
  busy: 'InstrumentBusy',
  silent: 'InstrumentSilent',
  unstable: 'InstrumentUnstable',
  overload: 'InstrumentOverloaded',
  'not understood': 'LineNotUnderstood',
  unchanged: 'ReadingUnchanged',
};

function messageOf(taken: Extract<Taken, { taken: false }>, limitMilliseconds: number): string {
  const { because, heard, state } = taken;
  const seconds = limitMilliseconds / 1000;
  const sent = heard ? `“${heard.raw.trim()}”` : '';
  switch (because) {
    case 'not connected':
      return `The line of ${state.title} is lost since ${state.since}: ${state.why ?? 'it is not open yet'}.`;
    case 'busy':
      return `Somebody else waits for a reading of ${state.title}.`;
    case 'silent':
      return `${state.title} sent nothing within ${seconds} s${state.silentSince ? `; its last line came at ${state.silentSince}` : ''}.`;
    case 'unstable':
      return `${state.title} did not become stable within ${seconds} s; it sent ${sent}.`;
    case 'overload':
      return `${state.title} is out of its range; it sent ${sent}.`;
    case 'not understood': {
      const decoded = heard?.decoded;
      const why = decoded?.says === 'not understood' ? `: ${decoded.why}` : '';
      return `${state.title} sent ${sent}, which is not understood${why}.`;
    }
    case 'unchanged':
      return `${state.title} has sent nothing but ${sent} since its last reading.`;
  }
}

/** Why no reading was taken. */
export function refusalOfTaking(
  taken: Extract<Taken, { taken: false }>,
  limitMilliseconds: number,
): Refusal {
  const { because, heard, state } = taken;
  return refuse(instrumentRefusals, names[because], {
    message: messageOf(taken, limitMilliseconds),
    figures: {
      instrument: state.instrument,
      limitMilliseconds,
      lineState: state.state,
      lastLine: heard?.raw ?? null,
    },
  });
}
