import type { PortionAnswer, ShownPortion } from './answer-shapes.ts';

/** What can be done with a portion, each with the command and the words for it. */
export const portionActs = {
  send: { command: 'send-portion', label: 'Send portion', title: 'send it' },
  open: { command: 'open-portion', label: 'Open portion', title: 'open it' },
  return: { command: 'return-portion', label: 'Return portion', title: 'return it to its melt' },
  discard: { command: 'discard-portion', label: 'Discard portion', title: 'discard it' },
  takeBack: { command: 'take-back-portion', label: 'Take portion back', title: 'take it back' },
  report: {
    command: 'record-portion-result',
    label: 'Record what he found',
    title: 'record what he found',
  },
  keep: { command: 'keep-portion', label: 'Keep portion', title: 'keep it elsewhere or longer' },
} as const;

export type PortionAct = keyof typeof portionActs;

/** The acts that fit a portion as it is, the likeliest first. */
export function actsOf(portion: ShownPortion & Pick<PortionAnswer, 'sent'>): readonly PortionAct[] {
  const { sent } = portion;
  const others = actsInState(portion);
  if (sent === null) return others;
  // A report is waited for; one that stands is corrected, which is seldom.
  return sent.isReported ? [...others, 'report'] : ['report', ...others];
}

function actsInState(portion: ShownPortion): readonly PortionAct[] {
  if (portion.state === 'with the supplier' || portion.state === 'with the umpire') {
    return ['takeBack', 'discard', 'keep'];
  }
  if (portion.state !== 'sealed') return [];
  const isFree = !portion.isInDispute && (portion.keptUntil === null || portion.isOverdue);
  const endings: readonly PortionAct[] = isFree
    ? portion.pieces > 0
      ? ['return', 'discard']
      : ['discard']
    : [];
  const sending: readonly PortionAct[] = portion.recipients.length > 0 ? ['send'] : [];
  return portion.isOverdue
    ? [...endings, 'keep', ...sending, 'open']
    : [...sending, 'open', ...endings, 'keep'];
}
