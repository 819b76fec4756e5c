import type { InsidePlace, Metal } from '../../../journal/place.ts';
import type { Role } from '../../../journal/station.ts';
import { inWords } from '../../../workbench/index.ts';
import type { Die } from '../books.ts';
import type { InstrumentKind } from '../instruments.ts';
import type { AssayMethod } from '../piece-standard.ts';

interface Choice<Value extends string> {
  readonly value: Value;
  readonly label: string;
}

function choicesOf<Value extends string>(words: Readonly<Record<Value, string>>) {
  return Object.entries(words).map(
    ([value, label]) => ({ value, label }) as Choice<Value>,
  ) as readonly Choice<Value>[];
}

/** Roles as a person is given them, in the order of their weight. */
export const roleChoices = choicesOf<Role>({
  'chief assayer': 'Chief assayer',
  assayer: 'Assayer',
  inspector: 'Inspector',
  custodian: 'Custodian',
  'die keeper': 'Die keeper',
  'metal accountant': 'Metal accountant',
  auditor: 'Auditor, alone: reads everything, records nothing',
});

const methodWords: Readonly<Record<AssayMethod, string>> = {
  cupellation: 'Cupellation',
  'fineness-by-difference': 'Fineness by difference',
  titration: 'Silver by titration',
};

export const methodChoices = choicesOf(methodWords);

export const metalChoices = choicesOf<Metal>({ gold: 'Gold', silver: 'Silver' });

export const diePartChoices = choicesOf<Die['part']>({
  obverse: 'Obverse',
  reverse: 'Reverse',
  collar: 'Collar',
});

export const instrumentKindChoices = choicesOf<InstrumentKind>({
  balance: 'Balance',
  micrometer: 'Micrometer',
  gauge: 'Gauge',
  spectrometer: 'Spectrometer',
  burette: 'Burette, with its electrode',
  'hardness tester': 'Hardness tester',
  microscope: 'Microscope',
  furnace: 'Furnace',
  press: 'Press',
});

export const placeWords: Readonly<Record<InsidePlace, string>> = {
  receiving: 'Receiving',
  laboratory: 'Laboratory',
  'press-room': 'Press room',
  'put-up': 'Put-up',
  'strong-room': 'Strong room',
  archive: 'Archive',
  scrap: 'Scrap',
  'in-transit': 'In transit',
};

export const placeChoices = choicesOf(placeWords);

/** A method by its name, as it stands in a list. */
export const methodName = (method: AssayMethod): string => methodWords[method] ?? inWords(method);
