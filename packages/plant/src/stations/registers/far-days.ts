import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { Command } from '../../journal/station.ts';
import type { JsonObject } from '../../ports/json.ts';
import { registersRefusals } from './refusals.ts';

/** The last days that are typed in, and how many years from today each may lie. */
const yearsAhead: Readonly<Record<string, number>> = {
  until: 10,
  approvedUntil: 10,
  calibrationDue: 10,
  expires: 10,
  validUntil: 30,
  keptUntil: 10,
  answerBy: 2,
};

interface LastDay {
  readonly field: string;
  readonly day: string;
  readonly years: number;
}

function lastDaysIn(value: unknown, path: readonly string[] = []): readonly LastDay[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, part]) => {
    const years = yearsAhead[name];
    const field = [...path, name];
    if (typeof part !== 'string' || years === undefined) return lastDaysIn(part, field);
    return [{ field: field.join('.'), day: part, years }];
  });
}

/** The same day of the calendar so many years on. */
function yearsOn(instant: string, years: number): string {
  return `${Number(instant.slice(0, 4)) + years}${instant.slice(4, 10)}`;
}

function farDays(input: unknown, instant: string): readonly Refusal[] {
  return lastDaysIn(input).flatMap(({ field, day, years }) => {
    const latest = yearsOn(instant, years);
    if (day <= latest) return [];
    const figures: JsonObject = { field, day, latest };
    const message = `${field} is ${day}; at most ${years} years from today are accepted: ${latest}.`;
    return [refuse(registersRefusals, 'DayTooFarAhead', { message, field, figures })];
  });
}

/**
 * A command that takes no last day further ahead than anybody means: one slip in a year would leave
 * an approval, an authorisation or a calibration good for ever.
 */
export function refusingFarDays(command: Command): Command {
  return {
    ...command,
    decide: (input, facts, circumstances) => {
      const refusals = farDays(input, circumstances.instant);
      return refusals.length > 0 ? { refusals } : command.decide(input, facts, circumstances);
    },
  };
}
