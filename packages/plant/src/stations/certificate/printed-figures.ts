/** The figures of printed papers: a point for the decimal sign, thin spaces for thousands. */

const thinSpace = '\u2009';

function grouped(digits: string): string {
  return digits.length <= 4 ? digits : digits.replace(/\B(?=(\d{3})+$)/g, thinSpace);
}

/** A whole number with thin-spaced thousands. */
export function printedWhole(value: number): string {
  return `${value < 0 ? '−' : ''}${grouped(Math.abs(value).toString())}`;
}

/** A whole number divided by a power of ten, rounded half to even at the last place shown. */
function printedScaled(
  value: bigint,
  powers: { readonly exponent: number; readonly decimals: number },
) {
  const divisor = 10n ** BigInt(powers.exponent - powers.decimals);
  const size = value < 0n ? -value : value;
  const whole = size / divisor;
  const twice = (size % divisor) * 2n;
  const isUp = twice > divisor || (twice === divisor && whole % 2n === 1n);
  const digits = (isUp ? whole + 1n : whole).toString().padStart(powers.decimals + 1, '0');
  const cut = digits.length - powers.decimals;
  const text =
    powers.decimals === 0
      ? grouped(digits)
      : `${grouped(digits.slice(0, cut))}.${digits.slice(cut)}`;
  return `${value < 0n ? '−' : ''}${text}`;
}

/** Micrograms in grams. */
export function printedGrams(micrograms: number, decimals: number): string {
  return printedScaled(BigInt(micrograms), { exponent: 6, decimals });
}

/** A number with fixed decimals. */
export function printedFixed(value: number, decimals: number): string {
  const [whole = '0', fraction] = Math.abs(value).toFixed(decimals).split('.');
  const sign = value < 0 && Number(value.toFixed(decimals)) !== 0 ? '−' : '';
  return `${sign}${grouped(whole)}${fraction === undefined ? '' : `.${fraction}`}`;
}

/** How many decimals a result deserves: those of its uncertainty to two significant digits. */
export function decimalsOfUncertainty(uncertainty: number): number {
  if (!(uncertainty > 0)) return 3;
  return Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(uncertainty))));
}

/** A probability that says no more than is known: beyond 99.99 % and below 0.01 % it is a bound. */
export function printedProbability(probability: number): string {
  if (probability > 0.9999) return '> 99.99 %';
  if (probability < 0.0001) return '< 0.01 %';
  return `${printedFixed(probability * 100, 2)} %`;
}

/** Day and minute of an instant where the plant stands. */
export function printedInstant(instant: string, timeZone: string): string {
  const parts = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    year: 'numeric',
    month: 'long',
    day: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  }).formatToParts(new Date(instant));
  const part = (type: string) => parts.find((one) => one.type === type)?.value ?? '';
  return `${part('day')} ${part('month')} ${part('year')}, ${part('hour')}:${part('minute')}`;
}

/** The day of an instant where the plant stands. */
export function printedDay(instant: string, timeZone: string): string {
  return printedInstant(instant, timeZone).split(',')[0] ?? instant;
}
