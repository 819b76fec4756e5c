import { defineKind } from '../../../journal/station.ts';
import {
  type NumbersCounted as CountedBody,
  numbersCounted,
  numbersReceived,
  numbersSpoiled,
  type NumbersReceived as ReceivedBody,
  type NumbersSpoiled as SpoiledBody,
} from './bodies.ts';
import { applyCounted, applyReceived, applySpoiled } from './read-model.ts';

const station = 'account';
const seriesOf = (body: { readonly series: string }) => [
  { thing: 'number-series', id: body.series },
];

export const NumbersReceived = defineKind<ReceivedBody>({
  kind: 'NumbersReceived',
  version: 1,
  station,
  meaning:
    'A custodian receives seals or labels that bear numbers in a row. It says nothing of what they will close.',
  body: numbersReceived,
  postings: 'moves nothing',
  things: seriesOf,
  apply: applyReceived,
});

export const NumbersSpoiled = defineKind<SpoiledBody>({
  kind: 'NumbersSpoiled',
  version: 1,
  station,
  meaning:
    'Two people destroy seals or labels that were never used, and say why. A number that is in use cannot be spoiled.',
  body: numbersSpoiled,
  postings: 'moves nothing',
  things: seriesOf,
  apply: applySpoiled,
});

export const NumbersCounted = defineKind<CountedBody>({
  kind: 'NumbersCounted',
  version: 1,
  station,
  meaning:
    'Two people count the seals or labels of a series that are left, without being told how many there should be.',
  body: numbersCounted,
  postings: 'moves nothing',
  things: seriesOf,
  apply: applyCounted,
});

export const itemKinds = [NumbersReceived, NumbersSpoiled, NumbersCounted] as const;
