import { folded } from '../../../tables/number-form.ts';
import { isLimitLabel } from './element-words.ts';
import type { ResultMapping, RowRole } from './result-bodies.ts';

type Marks = ResultMapping['marks'];

/** A label without the number of its replicate, as "B1 (2)", "B1 #2" or "B1 rep 2" bear it. */
export function withoutReplicate(label: string): string {
  return label
    .replace(/\s*\(\d{1,2}\)$/, '')
    .replace(/\s*#\s?\d{1,2}$/, '')
    .replace(/\s+(?:rep|repl|replicate|wdh|wiederholung|repet)\.?\s?\d{1,2}$/i, '')
    .trim();
}

const begins = (text: string, mark: string): boolean =>
  mark.trim() !== '' && folded(text).startsWith(folded(mark.trim()));

/** What a row is: by what its kind column says where the file has one, else by its label. */
export function roleOf(text: string, marks: Marks): RowRole {
  if (begins(text, marks.drift)) return 'drift';
  if (begins(text, marks.calibration)) return 'calibration';
  if (begins(text, marks.blank)) return 'blank';
  return isLimitLabel(text) ? 'limit' : 'sample';
}

/** Beginnings by which rows that are no samples are proposed, in six languages, without accents. */
const known = {
  drift: /^(drift|qc|check|kontroll\w*|control\w*|controle|controllo|ccv)/,
  calibration: /^(std|standard|cal|kal|calib|eichstd|etalon|patron|padrao|taratura|ks)/,
  blank: /^(blank|blk|leerwert|leer|blind\w*|blanc|bianco|blanco|branco)/,
} as const;

/** The marks that the labels of a file seem to bear. */
export function proposedMarks(texts: readonly string[]): Marks {
  const markOf = (form: RegExp): string => {
    for (const text of texts) {
      const [found] = form.exec(folded(text)) ?? [];
      // What follows must end the word, so that Calla 7 is no calibration.
      if (found !== undefined && !/^\p{L}/u.test(folded(text).slice(found.length))) {
        return text.slice(0, found.length);
      }
    }
    return '';
  };
  return {
    calibration: markOf(known.calibration),
    drift: markOf(known.drift),
    blank: markOf(known.blank),
  };
}
