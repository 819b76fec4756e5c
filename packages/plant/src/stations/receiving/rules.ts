import { announceConsignment } from './announce-rule.ts';
import { recordDraw } from './draw-rule.ts';
import { admitDrum, returnDrum, stopDrum, tallyDrum } from './drum-rules.ts';
import { confirmListMapping } from './list/list-rule.ts';
import { resumeInspection } from './resume-rule.ts';
import { orderSamples } from './sampling-rule.ts';
import { substitutePick } from './substitute-rule.ts';
import { weighDrum } from './weigh-rule.ts';

export const receivingCommands = [
  announceConsignment,
  confirmListMapping,
  weighDrum,
  tallyDrum,
  stopDrum,
  admitDrum,
  returnDrum,
  orderSamples,
  substitutePick,
  recordDraw,
  resumeInspection,
] as const;
