import type { ClaimClockInput, ClaimClockOutput } from '@cupel/calculation';
import { type Calculated, calculate } from '../../../journal/calculated.ts';

/** What supplier and plant have agreed on claims. */
export interface ClaimTerms {
  readonly claimWithinDays: number;
  readonly answerWithinDays: number;
  readonly dayKind: 'calendar' | 'business';
}

interface Deadlines {
  readonly calculated: Calculated;
  readonly answerDue: string;
  /** True where some claim is raised after its last day. */
  readonly isLate: boolean;
  readonly words: string;
}

const answerName = 'answer of the supplier';

/**
 * Until when the claims had to be raised, counted from the days on which they began, and until when
 * the supplier answers. Saturday and Sunday are no business days; holidays are not known here.
 */
export function claimDeadlines(
  began: readonly { readonly claim: string; readonly event: string; readonly day: string }[],
  terms: ClaimTerms,
  raisedOn: string,
): Deadlines {
  const shared = {
    dayKind: terms.dayKind,
    eventDayCounts: false,
    endOnRestDay: 'next business day' as const,
  };
  const input: ClaimClockInput = {
    rules: [
      ...began.map(({ claim, event, day }) => ({
        claim,
        event,
        eventDate: day,
        days: terms.claimWithinDays,
        ...shared,
        raisedDate: raisedOn,
      })),
      {
        claim: answerName,
        event: 'the claim',
        eventDate: raisedOn,
        days: terms.answerWithinDays,
        ...shared,
      },
    ],
    askedDate: raisedOn,
    restDays: ['Saturday', 'Sunday'],
    holidayDates: [],
  };
  const { calculated, output } = calculate<ClaimClockOutput>('claim-clock', input);
  const late = output.claims.filter(({ status }) => status === 'raised too late');
  const answer = output.claims.find(({ claim }) => claim === answerName);
  const answerDue = answer?.lastDate ?? raisedOn;
  const inTime =
    late.length === 0
      ? 'Raised in time.'
      : late
          .map(({ claim, lastDate }) => `${claim}: raised too late, the last day was ${lastDate}.`)
          .join(' ');
  return {
    calculated,
    answerDue,
    isLate: late.length > 0,
    words: `${inTime} The supplier answers by ${answerDue}.`,
  };
}
