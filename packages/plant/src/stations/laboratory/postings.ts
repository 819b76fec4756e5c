import type { Posting } from '../../journal/posting.ts';
import type { BlanksCut, BlanksReturned, MeltReturned } from './bodies.ts';

/** A cut blank ceases to be a piece; its grams stay in the laboratory. */
export function postingsOfCutting(body: BlanksCut): readonly Posting[] {
  return [
    {
      metal: body.metal,
      pieceStandard: body.pieceStandard,
      melt: body.melt,
      container: null,
      from: 'laboratory',
      to: 'ceased',
      pieces: body.blanks.length,
      grossMicrograms: 0,
      fineMicrograms: 0,
      estimated: false,
    },
  ];
}

/** Whole blanks go back to the rest of their melt. */
export function postingsOfBlankReturn(body: BlanksReturned): readonly Posting[] {
  return [
    {
      metal: body.metal,
      pieceStandard: body.pieceStandard,
      melt: body.melt,
      container: null,
      from: 'laboratory',
      to: 'receiving',
      pieces: body.blanks.length,
      grossMicrograms: body.grossMicrograms,
      fineMicrograms: body.fineMicrograms,
      estimated: false,
    },
  ];
}

/** What is left of a refused melt at receiving leaves the plant. */
export function postingsOfMeltReturn(body: MeltReturned): readonly Posting[] {
  return [
    {
      metal: body.metal,
      pieceStandard: body.pieceStandard,
      melt: body.melt,
      container: null,
      from: 'receiving',
      to: 'with-supplier',
      pieces: body.pieces,
      grossMicrograms: body.grossMicrograms,
      fineMicrograms: body.fineMicrograms,
      estimated: false,
    },
  ];
}
