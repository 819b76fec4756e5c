import { defineKind } from '../../../../journal/station.ts';
import {
  type ExchangeSettledBody,
  exchangeSettled,
  type PortionResultReportedBody,
  portionResultReported,
} from './bodies.ts';
import { applyReport, applySettlement } from './read-model.ts';

export const PortionResultReported = defineKind<PortionResultReportedBody>({
  kind: 'PortionResultReported',
  version: 1,
  station: 'receiving',
  meaning:
    "What the supplier or the umpire reports of a portion that was sent to him. Nobody who assays sees any of it before the plant's own result of that melt is signed. It changes neither that result nor the verdict.",
  body: portionResultReported,
  readableBy: ['custodian', 'auditor'],
  postings: 'moves nothing',
  things: ({ portion, melt, consignment }) => [
    { thing: 'portion', id: portion },
    { thing: 'melt', id: melt },
    { thing: 'consignment', id: consignment },
  ],
  apply: applyReport,
});

export const ExchangeSettled = defineKind<ExchangeSettledBody>({
  kind: 'ExchangeSettled',
  version: 1,
  station: 'receiving',
  meaning:
    'The chief assayer and a witness state by which fineness a melt is paid for, after the assays were exchanged. It is no concession: the verdict on the melt stays what the plant found.',
  body: exchangeSettled,
  postings: 'moves nothing',
  things: ({ melt }) => [{ thing: 'melt', id: melt }],
  apply: applySettlement,
});

export const reportedKinds = [PortionResultReported, ExchangeSettled] as const;
