/*
 * What a line of an instrument says. The shapes are those that manuals of balances and gauges
 * commonly describe; they are told by their parts, and every mark is a setting.
 */

export const instrumentUnits = ['kg', 'g', 'mg', 'mm', 'µm', 'HV'] as const;
export type InstrumentUnit = (typeof instrumentUnits)[number];

interface EveryDialect {
  readonly decimalSign: 'point' | 'comma';
}

/** Status letters, sign, number, unit: `ST,NT,+  12.3456 g`. */
export interface StatusFirst extends EveryDialect {
  readonly shape: 'status first';
  /** Letters of a stable value. */
  readonly stable: string;
  readonly unstable: string;
  readonly overload: string;
  /** Letters of a value with a tare taken off, and of one without; nothing when it sends neither. */
  readonly net: string | null;
  readonly gross: string | null;
}

/** Sign, number, unit, the unit only once the value is stable: `+  12.3456 g`, `+  12.34`. */
interface UnitWhenStable extends EveryDialect {
  readonly shape: 'unit when stable';
}

/** A number and perhaps its unit; the instrument sends nothing that is not stable: `12.345`. */
export interface NumberAlone extends EveryDialect {
  readonly shape: 'number alone';
  /** The unit when the line names none. */
  readonly unit: InstrumentUnit;
}

export const partingMarks = ['semicolon', 'comma', 'tab', 'blanks'] as const;
export const potentialUnits = ['mV', 'V'] as const;
export type PotentialUnit = (typeof potentialUnits)[number];

/** The points of a titration as they are read: volume in mL and potential, `12.345; -123.4`. */
export interface VolumeAndPotential extends EveryDialect {
  readonly shape: 'volume and potential';
  /** What stands between the two. */
  readonly partedBy: (typeof partingMarks)[number];
  readonly potentialUnit: PotentialUnit;
}

export type Dialect = StatusFirst | UnitWhenStable | NumberAlone | VolumeAndPotential;

/** What a line says. Only a stable one can become a reading. */
export type DecodedLine =
  | {
      readonly says: 'stable';
      readonly text: string;
      readonly unit: InstrumentUnit;
      readonly net: boolean;
    }
  /** A point of a titration, both with their digits: the volume in mL, the potential as the dialect says. */
  | { readonly says: 'point'; readonly volume: string; readonly potential: string }
  | { readonly says: 'unstable'; readonly text: string | null }
  | { readonly says: 'overload' }
  | { readonly says: 'not understood'; readonly why: string };

/** The units as instruments write them. */
const writtenUnits: Readonly<Record<string, InstrumentUnit>> = {
  kg: 'kg',
  g: 'g',
  mg: 'mg',
  mm: 'mm',
  um: 'µm',
  // The micro sign, and the Greek letter in its place.
  '\u00b5m': 'µm',
  '\u03bcm': 'µm',
  HV: 'HV',
};

const notUnderstood = (why: string): DecodedLine => ({ says: 'not understood', why });

interface NumberAndUnit {
  readonly text: string;
  /** As it is written; nothing when the line ends with the number. */
  readonly unit: string;
}

/** Sign, number, unit, with blanks between them. A plus sign is no part of the digits. */
function numberAndUnit(text: string, dialect: Dialect): NumberAndUnit | undefined {
  const sign = dialect.decimalSign === 'point' ? '\\.' : ',';
  const form = new RegExp(`^\\s*([+-]?)\\s*(\\d+(?:${sign}\\d+)?)\\s*([^\\s\\d.,+-]*)\\s*$`, 'u');
  const [, plusOrMinus = '', digits, unit = ''] = form.exec(text) ?? [];
  if (digits === undefined) return undefined;
  const minus = plusOrMinus === '-' ? '-' : '';
  return { text: `${minus}${digits.replace(',', '.')}`, unit };
}

function stable(found: NumberAndUnit, net: boolean): DecodedLine {
  const unit = writtenUnits[found.unit];
  if (!unit) return notUnderstood(`${found.unit || 'no unit'} is not one of the plant’s units`);
  if (found.text.length > 24) return notUnderstood('the number has more than 24 characters');
  return { says: 'stable', text: found.text, unit, net };
}

/** Words of letters at the beginning, then the rest. */
function statusWords(raw: string): { words: readonly string[]; rest: string } {
  const [head = ''] = /^[\sA-Za-z,;:]*/.exec(raw) ?? [];
  return { words: head.split(/[\s,;:]+/).filter(Boolean), rest: raw.slice(head.length) };
}

function decodeStatusFirst(raw: string, dialect: StatusFirst): DecodedLine {
  const { words, rest } = statusWords(raw);
  const known = [dialect.stable, dialect.unstable, dialect.overload, dialect.net, dialect.gross];
  const strange = words.find((word) => !known.includes(word));
  if (strange !== undefined) return notUnderstood(`${strange} is no status that is set`);
  if (words.includes(dialect.overload)) return { says: 'overload' };
  const found = numberAndUnit(rest, dialect);
  if (words.includes(dialect.unstable)) return { says: 'unstable', text: found?.text ?? null };
  if (words[0] !== dialect.stable) return notUnderstood('it does not begin with a status');
  if (!found) return notUnderstood('no number follows the status');
  return stable(found, dialect.net !== null && words.includes(dialect.net));
}

function decodeUnitWhenStable(raw: string, dialect: UnitWhenStable): DecodedLine {
  const found = numberAndUnit(raw, dialect);
  if (found)
    return found.unit === '' ? { says: 'unstable', text: found.text } : stable(found, false);
  // Beyond the range the digits give way to letters or strokes.
  const isWithoutDigits = raw.trim() !== '' && !/\d/.test(raw);
  return isWithoutDigits ? { says: 'overload' } : notUnderstood('it is no number with a unit');
}

function decodeNumberAlone(raw: string, dialect: NumberAlone): DecodedLine {
  const found = numberAndUnit(raw, dialect);
  if (!found) return notUnderstood('it is no number');
  return stable(found.unit === '' ? { ...found, unit: dialect.unit } : found, false);
}

const parting = { semicolon: ';', comma: ',', tab: '\t', blanks: /\s+/ } as const;

function decodeVolumeAndPotential(raw: string, dialect: VolumeAndPotential): DecodedLine {
  const parts = raw.trim().split(parting[dialect.partedBy]);
  const [volume, potential] = parts.map((part) => numberAndUnit(part, dialect));
  if (parts.length !== 2 || !volume || !potential) {
    return notUnderstood(`it is no volume and potential parted by ${dialect.partedBy}`);
  }
  // A line may name its units; then they must be those that are set.
  if (!['', 'mL', 'ml'].includes(volume.unit)) return notUnderstood(`${volume.unit} is not mL`);
  if (!['', dialect.potentialUnit].includes(potential.unit)) {
    return notUnderstood(`${potential.unit} is not ${dialect.potentialUnit}`);
  }
  if (volume.text.startsWith('-')) return notUnderstood('no volume is below 0');
  return { says: 'point', volume: volume.text, potential: potential.text };
}

/**
 * What a whole line says, without its end. Nothing is guessed: a mark, unit or number that is not
 * set makes the whole line one that is not understood.
 */
export function decodeLine(raw: string, dialect: Dialect): DecodedLine {
  if (raw.length > 80) return notUnderstood('it is longer than 80 characters');
  switch (dialect.shape) {
    case 'status first':
      return decodeStatusFirst(raw, dialect);
    case 'unit when stable':
      return decodeUnitWhenStable(raw, dialect);
    case 'number alone':
      return decodeNumberAlone(raw, dialect);
    case 'volume and potential':
      return decodeVolumeAndPotential(raw, dialect);
  }
}
