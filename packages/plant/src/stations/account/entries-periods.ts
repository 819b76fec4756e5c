import { defineKind } from '../../journal/station.ts';
import {
  type DriftResolved as DriftResolvedBody,
  driftResolved,
  type PeriodClosed as PeriodClosedBody,
  type PeriodCorrected as PeriodCorrectedBody,
  periodClosed,
  periodCorrected,
  type ShiftHandedOver as ShiftHandedOverBody,
  shiftHandedOver,
} from './bodies-periods.ts';
import {
  applyDriftResolved,
  applyHandOver,
  applyPeriodClosed,
  applyPeriodCorrected,
} from './read-model-periods.ts';
import { seesBook } from './sees-book.ts';

export const DayClosed = defineKind<PeriodClosedBody>({
  kind: 'DayClosed',
  version: 1,
  station: 'account',
  meaning:
    'The metal accountant and a witness freeze a day whose shifts are closed: its entries, its balances and its differences. What is corrected later is an entry of its own day.',
  body: periodClosed,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'period', id: body.period }],
  readableBy: seesBook,
  apply: applyPeriodClosed,
  signsHead: true,
});

export const MonthClosed = defineKind<PeriodClosedBody>({
  kind: 'MonthClosed',
  version: 1,
  station: 'account',
  meaning:
    'The metal accountant and a witness freeze a month whose days are closed: its entries, its balances and its differences. What is corrected later is an entry of its own month.',
  body: periodClosed,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'period', id: body.period }],
  readableBy: seesBook,
  apply: applyPeriodClosed,
  signsHead: true,
});

export const PeriodCorrected = defineKind<PeriodCorrectedBody>({
  kind: 'PeriodCorrected',
  version: 1,
  station: 'account',
  meaning:
    'The metal accountant and a witness say what was wrong in a closed period. It moves no metal and leaves the period as it was frozen.',
  body: periodCorrected,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'period', id: body.period }],
  apply: applyPeriodCorrected,
});

export const ShiftHandedOver = defineKind<ShiftHandedOverBody>({
  kind: 'ShiftHandedOver',
  version: 1,
  station: 'account',
  meaning:
    'A person of the crew that leaves and one of the crew that arrives sign for what is open. It closes nothing and says nothing of what lies anywhere.',
  body: shiftHandedOver,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'shift', id: body.shift },
    { thing: 'shift', id: body.arrivingShift },
  ],
  apply: applyHandOver,
});

export const DriftResolved = defineKind<DriftResolvedBody>({
  kind: 'DriftResolved',
  version: 1,
  station: 'account',
  meaning:
    'The chief assayer and a witness say why the grams of a place drifted over many shifts. The series begins anew after it; the balances stay.',
  body: driftResolved,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'place', id: body.place }],
  apply: applyDriftResolved,
});

export const periodKinds = [
  DayClosed,
  MonthClosed,
  PeriodCorrected,
  ShiftHandedOver,
  DriftResolved,
] as const;
