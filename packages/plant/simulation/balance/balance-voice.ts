import type {
  Dialect,
  StatusFirst,
  VolumeAndPotential,
} from '../../src/ports/instrument-dialect.ts';
import type { Shown } from './bench-balance.ts';

/** Status letters as the simulated balance sends them. */
export const statusFirst: StatusFirst = {
  shape: 'status first',
  decimalSign: 'point',
  stable: 'ST',
  unstable: 'US',
  overload: 'OL',
  net: 'NT',
  gross: 'GS',
};

/** What a balance can speak: points of titrations are no matter of it. */
export type BalanceDialect = Exclude<Dialect, VolumeAndPotential>;

/** How the simulated balance is asked for a value. */
export const askForValue = { text: 'READ', end: 'CR LF' } as const;

function signed(text: string, dialect: BalanceDialect, width: number): string {
  const digits = text.replace('-', '').padStart(width);
  const sign = text.startsWith('-') ? '-' : '+';
  return `${sign}${dialect.decimalSign === 'comma' ? digits.replace('.', ',') : digits}`;
}

/** What stands in the display, as the line that the balance sends, without its end. */
export function lineOf(shown: Shown, dialect: BalanceDialect): string {
  const { status, text, unit, isNet } = shown;
  switch (dialect.shape) {
    case 'status first': {
      if (status === 'overload') return dialect.overload;
      const letters = [dialect[status], isNet ? dialect.net : dialect.gross].filter(Boolean);
      return `${letters.join(',')},${signed(text, dialect, 10)} ${unit}`;
    }
    case 'unit when stable':
      if (status === 'overload') return '       H  ';
      return `${signed(text, dialect, 10)} ${status === 'stable' ? unit : ''}`;
    case 'number alone':
      return status === 'overload' ? '------' : signed(text, dialect, 1);
  }
}
