import type { DifferenceFigures } from './bodies.ts';
import type { Difference } from './books.ts';
import { causesInWords } from './words.ts';

interface PrintedLine {
  readonly name: string;
  readonly melt: string;
  readonly causes: string;
  readonly announced: readonly [pieces: string, grams: string];
  readonly found: readonly [pieces: string, grams: string];
  readonly difference: readonly [pieces: string, grams: string];
  readonly uncertainty: string;
  readonly seal: string;
  readonly evidence: string;
}

/** The printed document of a difference in words and figures; the template only sets it. */
export interface DifferencePage {
  readonly title: string;
  readonly plant: string;
  readonly about: string;
  readonly facts: readonly (readonly [string, string])[];
  readonly words: string;
  readonly lines: readonly PrintedLine[];
  readonly total: readonly [pieces: string, grams: string];
  readonly answers: readonly { readonly head: string; readonly words: string }[];
  readonly settlement: {
    readonly head: string;
    readonly words: string;
    readonly lines: readonly (readonly [
      name: string,
      pieces: string,
      grams: string,
      how: string,
    ])[];
  } | null;
  readonly signatures: readonly (readonly [what: string, name: string])[];
  readonly entry: string;
  readonly entryHash: string;
  readonly date: readonly [number, number, number];
}

const thousands = (digits: string): string => digits.replace(/\B(?=(\d{3})+$)/g, '\u2009');

function number(value: number, decimals: number): string {
  const [whole = '0', fraction] = Math.abs(value).toFixed(decimals).split('.');
  return `${value < 0 ? '−' : ''}${thousands(whole)}${fraction === undefined ? '' : `.${fraction}`}`;
}

const plus = (value: number, decimals: number): string =>
  `${value > 0 ? '+' : ''}${number(value, decimals)}`;
const grams = (micrograms: number | null): string =>
  micrograms === null ? '–' : number(micrograms / 1e6, 1);
const plusGrams = (micrograms: number | null): string =>
  micrograms === null ? '–' : plus(micrograms / 1e6, 1);

function printed(line: DifferenceFigures): PrintedLine {
  const { standardUncertaintyMicrograms: uncertainty } = line;
  return {
    name: line.thing === 'drum' ? line.id : `Melt ${line.id}`,
    melt: line.thing === 'drum' ? line.melt : '',
    causes: causesInWords(line.causes),
    announced: [number(line.piecesAnnounced, 0), grams(line.netAnnouncedMicrograms)],
    found: [number(line.piecesFound, 0), grams(line.netFoundMicrograms)],
    difference: [plus(line.differencePieces, 0), plusGrams(line.differenceMicrograms)],
    uncertainty: uncertainty === null ? '' : `± ${number(uncertainty / 1e6, 2)}`,
    seal:
      line.sealDocumented === null
        ? ''
        : `Seal ${line.sealDocumented} by the document, ${line.sealFound ?? 'none'} found`,
    evidence: line.evidence.join(', '),
  };
}

function dayParts(day: string): readonly [number, number, number] {
  const [year = 0, month = 0, date = 0] = day.split('-').map(Number);
  return [year, month, date];
}

/** Puts a difference into the words and figures of its paper. */
export function differencePage(of: {
  readonly row: Difference;
  readonly plantTitle: string;
  readonly supplierName: string;
  readonly standardTitle: string;
  readonly entryHash: string | undefined;
  readonly nameOf: (person: string) => string;
}): DifferencePage {
  const { row, nameOf } = of;
  const { settlement } = row;
  return {
    title: `Difference ${row.difference}`,
    plant: of.plantTitle,
    about: `To ${of.supplierName}: consignment ${row.consignment} of ${of.standardTitle}, ${row.document}`,
    facts: [
      ['Raised on', row.raisedOn],
      ['Answer due', row.answerDue],
      ['State', row.state],
    ],
    words: row.words,
    lines: row.lines.map(printed),
    total: [plus(row.differencePieces, 0), plusGrams(row.differenceMicrograms)],
    answers: row.answers.map(({ answer, document, instant, words }) => ({
      head: `${instant.slice(0, 10)}, ${document}: ${answer}`,
      words,
    })),
    settlement: settlement && {
      head: `Settled on ${settlement.instant.slice(0, 10)} by ${nameOf(settlement.author)} with ${nameOf(settlement.witness)}, ${settlement.document}: ${plus(settlement.agreedPieces, 0)} pieces, ${plusGrams(settlement.agreedMicrograms)} g`,
      words: settlement.words,
      lines: settlement.lines.map(({ thing, id, agreedPieces, agreedMicrograms, how }) => [
        `${thing} ${id}`,
        plus(agreedPieces, 0),
        plusGrams(agreedMicrograms),
        how,
      ]),
    },
    signatures: [
      ['Raised by, signed by password', nameOf(row.author)],
      ['Witness, signed by password', nameOf(row.witness)],
    ],
    entry: String(row.entry),
    entryHash: of.entryHash ?? '',
    date: dayParts(row.raisedOn),
  };
}
