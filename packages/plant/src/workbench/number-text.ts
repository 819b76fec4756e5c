/** The thousands mark: a narrow space that does not break. */
const thinSpace = '\u202f';
const minus = '−';

let decimalSign: string | undefined;

/** The decimal sign of the reader's locale. */
export function localDecimalSign(): string {
  decimalSign ??=
    new Intl.NumberFormat(undefined).formatToParts(1.5).find((part) => part.type === 'decimal')
      ?.value ?? '.';
  return decimalSign;
}

function groupThousands(digits: string): string {
  if (digits.length <= 4) return digits;
  return digits.replace(/\B(?=(\d{3})+$)/g, thinSpace);
}

/** Prints decimal text as it is read here: thin-spaced thousands, true minus, the local decimal sign. */
export function printDecimal(text: string): string {
  const [, sign = '', whole = '', fraction] = /^([+-]?)(\d*)(?:\.(\d+))?$/.exec(text) ?? [];
  if (whole === '' && fraction === undefined) return text;
  const tail = fraction === undefined ? '' : localDecimalSign() + fraction;
  return `${sign === '-' ? minus : ''}${groupThousands(whole || '0')}${tail}`;
}

/**
 * Prints a number with a fixed count of decimals, or with up to six significant digits when none is
 * given. Whole numbers keep all their digits.
 */
export function printNumber(value: number | bigint, decimals?: number): string {
  if (typeof value === 'bigint') return printDecimal(value.toString());
  if (!Number.isFinite(value)) return '–';
  if (decimals !== undefined) return printDecimal(fixedText(value, decimals));
  if (Number.isInteger(value)) return printDecimal(fixedText(value, 0));
  const size = Math.abs(value);
  if (size < 1e-4) return printExponent(value);
  const places = Math.max(0, 5 - Math.floor(Math.log10(size)));
  return printDecimal(fixedText(value, places).replace(/0+$/, '').replace(/\.$/, ''));
}

function fixedText(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}

const raised = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];

function printExponent(value: number): string {
  const [digits = '', exponent = ''] = value.toExponential(2).split('e');
  const power = exponent.replace(/\d/g, (digit) => raised[Number(digit)] ?? '');
  return `${printDecimal(digits)} × 10${power.replace('-', '⁻').replace('+', '')}`;
}

const microgramsPer = { kg: 1_000_000_000n, g: 1_000_000n, mg: 1_000n } as const;

/**
 * Prints whole micrograms in a greater unit, exact up to the last decimal shown, which is rounded
 * half to even.
 */
export function printMicrograms(
  micrograms: number | bigint,
  unit: keyof typeof microgramsPer,
  decimals: number,
): string {
  const scaled = BigInt(micrograms) * 10n ** BigInt(decimals);
  const divisor = microgramsPer[unit];
  const size = scaled < 0n ? -scaled : scaled;
  const whole = size / divisor;
  const twice = (size % divisor) * 2n;
  const isUp = twice > divisor || (twice === divisor && whole % 2n === 1n);
  const digits = (isUp ? whole + 1n : whole).toString().padStart(decimals + 1, '0');
  const cut = digits.length - decimals;
  const text = decimals === 0 ? digits : `${digits.slice(0, cut)}.${digits.slice(cut)}`;
  return printDecimal(`${scaled < 0n && /[1-9]/.test(text) ? '-' : ''}${text}`);
}

/** Reads what a person typed as a number: text with a decimal point, or nothing when it is none. */
export function typedDecimal(typed: string): string | undefined {
  const text = typed.trim().replace(/\s/g, '').replace(minus, '-').replace(',', '.');
  return /^[+-]?\d+(\.\d+)?$/.test(text) ? text : undefined;
}

/** Prints an instant as day and minute of the reader's own clock. */
export function printInstant(instant: string): string {
  const date = new Date(instant);
  if (Number.isNaN(date.getTime())) return instant;
  return new Intl.DateTimeFormat(undefined, {
    year: 'numeric',
    month: 'short',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
  }).format(date);
}

/** How long ago an instant was, in words. */
export function printAge(instant: string, now: number = Date.now()): string {
  const minutes = Math.floor((now - Date.parse(instant)) / 60_000);
  if (Number.isNaN(minutes)) return instant;
  if (minutes < 1) return 'just now';
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return `${hours} h`;
  return `${Math.floor(hours / 24)} days`;
}

/** How long ago an instant was. */
export function printAgo(instant: string, now: number = Date.now()): string {
  const age = printAge(instant, now);
  return /^\d+ (min|h|days)$/.test(age) ? `${age} ago` : age;
}

/** A name of code in words, as `DrumWeighed` or `press-room`. */
export function inWords(name: string): string {
  const words = name
    .replace(/-(?!up$)/g, ' ')
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .toLowerCase();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/**
 * What was typed as a whole number for a command; an empty field is nothing, and text that is none
 * goes as it stands, so that the plant refuses it by name.
 */
export function wholeNumberOf(typed: string): number | string | null {
  const text = typedDecimal(typed);
  if (typed.trim() === '') return null;
  return text !== undefined && Number.isSafeInteger(Number(text)) ? Number(text) : typed;
}

/** A number with a power of ten, as very small ones are written: 5.8e-7. */
const powerOfTen = /^([^eE]+)[eE]([+-]?\d{1,3})$/;

/** What was typed as a decimal number for a command, in the same way; a power of ten may follow. */
export function decimalOf(typed: string): number | string | null {
  if (typed.trim() === '') return null;
  const [, digits = typed, power = '0'] = powerOfTen.exec(typed.trim().replace(minus, '-')) ?? [];
  const text = typedDecimal(digits);
  return text === undefined ? typed : Number(`${text}e${power}`);
}
