import type { Posting } from '../../../journal/posting.ts';
import { defineKind } from '../../../journal/station.ts';
import { metalTakenOut, type MetalTakenOut as TakenOutBody } from './bodies.ts';
import { applyTakenOut } from './books.ts';

const postingOf = (body: TakenOutBody): Posting => ({
  metal: body.metal,
  pieceStandard: body.pieceStandard,
  melt: body.melt,
  container: null,
  from: 'laboratory',
  to: body.to,
  pieces: 0,
  grossMicrograms: body.grossMicrograms,
  fineMicrograms: body.fineMicrograms,
  estimated: body.estimated,
});

export const MetalTakenOut = defineKind<TakenOutBody>({
  kind: 'MetalTakenOut',
  version: 1,
  station: 'laboratory',
  meaning:
    'An assayer and a custodian take metal of cut blanks out of the laboratory: cuttings, cornets, solutions, or what the furnace took. What was not weighed is marked as estimated.',
  body: metalTakenOut,
  postings: (body) => [postingOf(body)],
  things: (body) => [{ thing: 'melt', id: body.melt }],
  apply: applyTakenOut,
});
