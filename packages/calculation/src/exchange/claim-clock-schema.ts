import { z } from 'zod';
import { weekdays } from './calendar-day.ts';

const dateAccepted = 'a date such as 2027-03-31';
const date = () => z.string(dateAccepted).regex(/^\d{4}-\d{2}-\d{2}$/, dateAccepted);
const daysAccepted = 'a whole number of days from 0 to 3650';
const nameAccepted = 'a name of 1 to 100 characters';
const name = () => z.string(nameAccepted).min(1, nameAccepted).max(100, nameAccepted);
const listAccepted = 'a list of 1 to 100 rules';
const holidaysAccepted = 'a list of up to 5000 dates';
const restAccepted = 'a list of up to 6 different weekdays';

const rule = z.strictObject({
  claim: name().meta({ title: 'Claim', description: 'What may be claimed: mass, count, fineness' }),
  event: name().meta({
    title: 'Event',
    description: 'What starts the period: receipt, exchange of results',
  }),
  eventDate: date().meta({ title: 'Date of the event', description: 'ISO 8601' }),
  days: z.int(daysAccepted).min(0, daysAccepted).max(3650, daysAccepted).meta({
    title: 'Days',
    description: 'Within which the claim must be raised',
    unit: 'd',
  }),
  dayKind: z.enum(['calendar', 'business'], 'calendar or business').meta({
    title: 'Kind of days',
    description: 'Business days leave out the rest days and holidays below',
  }),
  eventDayCounts: z.boolean('true or false').meta({
    title: 'The day of the event counts as the first',
    description: 'Usually not',
  }),
  endOnRestDay: z.enum(['next business day', 'stays'], 'next business day or stays').meta({
    title: 'When the last day is a rest day or holiday',
    description: 'It moves to the next business day, or stays',
  }),
  raisedDate: date().optional().meta({
    title: 'Raised on',
    description: 'None while it has not been raised',
  }),
});

export const claimClockInput = z.strictObject({
  rules: z.array(rule, listAccepted).min(1, listAccepted).max(100, listAccepted).meta({
    title: 'Rules',
    description: 'Of the contract, one for each kind of claim',
  }),
  askedDate: date().meta({ title: 'Asked on', description: 'The day for which the clock is read' }),
  restDays: z
    .array(
      z.enum(weekdays, `one of ${weekdays.join(', ')}`).meta({ title: 'Weekday' }),
      restAccepted,
    )
    .max(6, restAccepted)
    .refine((days) => new Set(days).size === days.length, { error: restAccepted })
    .meta({ title: 'Rest days of the week', description: 'Saturday and Sunday in many places' }),
  holidayDates: z
    .array(date().meta({ title: 'Holiday' }), holidaysAccepted)
    .max(5000, holidaysAccepted)
    .meta({ title: 'Holidays', description: 'Of the place that the contract names' }),
});

export const claimClockOutput = z.strictObject({
  claims: z
    .array(
      z.strictObject({
        claim: z.string().meta({ title: 'Claim' }),
        lastDate: z.string().meta({ title: 'Last day' }),
        lastWeekday: z.enum(weekdays).meta({ title: 'Its weekday' }),
        movedDays: z.int().meta({ title: 'Moved by rest days at the end', unit: 'd' }),
        daysLeft: z.int().meta({
          title: 'Calendar days left',
          description: 'From the day asked for to the last day; negative when it is over',
          unit: 'd',
        }),
        businessDaysLeft: z.int().meta({
          title: 'Business days left',
          description: 'After the day asked for, the last day included; 0 when it is over',
          unit: 'd',
        }),
        status: z
          .enum(['open', 'last day', 'lapsed', 'raised in time', 'raised too late'])
          .meta({ title: 'Status' }),
      }),
    )
    .meta({ title: 'Claims' }),
  nextDate: z.string().nullable().meta({
    title: 'Nearest last day among the open claims',
    description: 'None when no claim is open',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type ClaimClockInput = z.infer<typeof claimClockInput>;
export type ClaimClockOutput = z.infer<typeof claimClockOutput>;
