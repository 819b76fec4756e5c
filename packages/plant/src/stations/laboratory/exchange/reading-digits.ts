import type { Reading } from '../../../journal/reading.ts';
import type { Digits } from '../../../tables/csv.ts';

const milligramPlaces: Readonly<Record<string, number>> = { kg: 6, g: 3, mg: 0 };

/** The digits of a mass with the point where it stands in milligrams; no digit is lost or made. */
export function milligramDigits(reading: Reading): Digits {
  const places = milligramPlaces[reading.unit];
  if (places === undefined) throw new RangeError(`${reading.unit} is no unit of mass`);
  const [, sign = '', whole = '0', fraction = ''] =
    /^([+-]?)(\d+)(?:\.(\d+))?$/.exec(reading.text) ?? [];
  const all = whole + fraction.padEnd(places, '0');
  const point = whole.length + places;
  const before = all.slice(0, point).replace(/^0+(?=\d)/, '');
  const after = all.slice(point);
  return { digits: `${sign === '-' ? '-' : ''}${before}${after === '' ? '' : `.${after}`}` };
}
