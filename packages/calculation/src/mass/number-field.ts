import { z } from 'zod';

/** What a number field accepts; `above` excludes its bound, the others include theirs. */
interface NumberRange {
  readonly least?: number;
  readonly above?: number;
  readonly greatest: number;
  readonly unit?: string;
}

/** The range in words, as the refusal of a field states it. */
function rangeWords(what: string, range: NumberRange): string {
  const unit = range.unit === undefined ? '' : ` ${range.unit}`;
  return range.above === undefined
    ? `a ${what} from ${range.least ?? 0} to ${range.greatest}${unit}`
    : `a ${what} above ${range.above} and up to ${range.greatest}${unit}`;
}

/** A number of a closed or half-open range whose refusal says what would be accepted. */
export function numberField(what: string, range: NumberRange): z.ZodNumber {
  const error = rangeWords(what, range);
  const number = z.number({ error }).max(range.greatest, { error });
  return range.above === undefined
    ? number.min(range.least ?? 0, { error })
    : number.gt(range.above, { error });
}

/** A whole number of a closed range whose refusal says what would be accepted. */
export function integerField(what: string, least: number, greatest: number) {
  const error = `a whole ${what} from ${least} to ${greatest}`;
  return z.int({ error }).min(least, { error }).max(greatest, { error });
}

/** A standard uncertainty of an input that may be left out, which counts as 0. */
export function spreadField(what: string, greatest: number, unit: string) {
  return numberField(`standard uncertainty of the ${what}`, { greatest, unit })
    .optional()
    .meta({
      title: `Standard uncertainty of the ${what}`,
      description: 'None counts as 0',
      unit,
    });
}

/** A label of 1 to 100 characters. */
export function labelField() {
  const error = 'a label of 1 to 100 characters';
  return z.string({ error }).min(1, { error }).max(100, { error }).meta({ title: 'Label' });
}

/** Whether no two items of a list carry the same label. */
export function hasUniqueLabels(items: readonly { readonly label: string }[]): boolean {
  return new Set(items.map((item) => item.label)).size === items.length;
}
