import { State } from '../../../workbench/index.ts';
import type { RegistersAnswer } from './desk-answer.ts';

/** A last day: plain while it is far, marked once it is near or past. */
export function Until(props: {
  readonly day: string;
  readonly answer: Pick<RegistersAnswer, 'day' | 'runningOut'>;
}) {
  const { day, answer } = props;
  if (day < answer.day) return <State word={`ran out ${day}`} tone="stopped" />;
  const isNear = answer.runningOut.some(({ until }) => until === day);
  return isNear ? <State word={`until ${day}`} tone="look" /> : day;
}
