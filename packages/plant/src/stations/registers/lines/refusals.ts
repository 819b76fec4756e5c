import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of connecting instruments. */
export const lineRefusals = {
  InstrumentSendsNoReadings: {
    meaning: 'The instrument is none whose lines can be readings.',
    nextStep: 'Connect a balance, a micrometer, a gauge or a burette.',
  },
  ShapeUnfit: {
    meaning: 'Lines of this shape do not come from an instrument of that kind.',
    nextStep: 'Choose volume and potential for a burette, and another shape for all others.',
  },
  LineTaken: {
    meaning: 'Another instrument is read on the line.',
    nextStep: 'Take the other instrument off the line, or name the right port.',
  },
  StabilityNotTold: {
    meaning:
      'The instrument sends all the time, and nothing in its lines says whether the value is stable.',
    nextStep: 'Let it send on its key only, or choose a shape in which stability is told.',
  },
  InstrumentNotOnLine: {
    meaning: 'The instrument is read on no line.',
    nextStep: 'Connect the instrument first.',
  },
} satisfies RefusalMeanings;
