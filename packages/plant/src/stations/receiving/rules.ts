import { announceConsignment, keepPackingListColumns } from './announce-rule.ts';
import { recordDraw } from './draw-rule.ts';
import { admitDrum, returnDrum, stopDrum, tallyDrum } from './drum-rules.ts';
import { resumeInspection } from './resume-rule.ts';
import { orderSamples } from './sampling-rule.ts';
import { weighDrum } from './weigh-rule.ts';

export const receivingCommands = [
  announceConsignment,
  keepPackingListColumns,
  weighDrum,
  tallyDrum,
  stopDrum,
  admitDrum,
  returnDrum,
  orderSamples,
  recordDraw,
  resumeInspection,
] as const;
