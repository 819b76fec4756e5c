import { z } from 'zod';
import { readingUnits } from '../../../journal/reading.ts';
import { partingMarks, potentialUnits } from '../../../ports/instrument-dialect.ts';
import { baudRates, flowControls, lineEnds, parities } from '../../../ports/instrument-line.ts';
import { instrumentId } from '../instruments.ts';

const serialPath = 'a port of the server, such as /dev/ttyUSB0 or COM3';

const serialLine = z.strictObject({
  kind: z.literal('serial'),
  path: z
    .string(serialPath)
    .max(120, serialPath)
    .regex(/^(\/dev(\/[A-Za-z0-9][A-Za-z0-9._:-]*)+|COM\d{1,3})$/, serialPath)
    .meta({ title: 'Port', description: 'As the server names it, such as /dev/ttyUSB0.' }),
  baudRate: z
    .literal(baudRates, `one of ${baudRates.join(', ')}`)
    .meta({ title: 'Speed', description: 'As it is set at the instrument.', unit: 'baud' }),
  dataBits: z.literal([7, 8], '7 or 8').meta({ title: 'Data bits' }),
  parity: z.enum(parities, `one of ${parities.join(', ')}`).meta({ title: 'Parity' }),
  stopBits: z.literal([1, 2], '1 or 2').meta({ title: 'Stop bits' }),
  flow: z.enum(flowControls, `one of ${flowControls.join(', ')}`).meta({ title: 'Flow control' }),
});

const hostForm = 'a name or an address in the plant’s own network';
const portForm = 'a whole number from 1 to 65535';

const tcpLine = z.strictObject({
  kind: z.literal('tcp'),
  host: z
    .string(hostForm)
    .max(250, hostForm)
    .regex(/^[A-Za-z0-9]([A-Za-z0-9.:-]*[A-Za-z0-9])?$/, hostForm)
    .meta({ title: 'Host', description: hostForm }),
  port: z.int(portForm).min(1, portForm).max(65_535, portForm).meta({ title: 'Port' }),
});

const markForm = '1 to 4 letters';
const mark = (title: string) =>
  z
    .string(markForm)
    .regex(/^[A-Za-z]{1,4}$/, markForm)
    .meta({ title, description: 'As it stands in its lines.' });

const decimalSign = z
  .enum(['point', 'comma'], 'point or comma')
  .meta({ title: 'Decimal sign', description: 'As it stands in its lines.' });

const statusFirst = z
  .strictObject({
    shape: z.literal('status first'),
    decimalSign,
    stable: mark('Stable'),
    unstable: mark('Unstable'),
    overload: mark('Out of range'),
    net: mark('Net').nullable(),
    gross: mark('Gross').nullable(),
  })
  .refine(
    ({ stable, unstable, overload, net, gross }) => {
      const marks = [stable, unstable, overload, net, gross].filter((one) => one !== null);
      return new Set(marks).size === marks.length;
    },
    { error: 'other letters for each state', path: ['stable'] },
  );

const dialect = z.discriminatedUnion(
  'shape',
  [
    statusFirst,
    z.strictObject({ shape: z.literal('unit when stable'), decimalSign }),
    z.strictObject({
      shape: z.literal('number alone'),
      decimalSign,
      unit: z
        .enum(readingUnits, `one of ${readingUnits.join(', ')}`)
        .meta({ title: 'Unit', description: 'Of a line that names none.' }),
    }),
    z
      .strictObject({
        shape: z.literal('volume and potential'),
        decimalSign,
        partedBy: z
          .enum(partingMarks, `one of ${partingMarks.join(', ')}`)
          .meta({ title: 'Parted by', description: 'What stands between volume and potential.' }),
        potentialUnit: z
          .enum(potentialUnits, `one of ${potentialUnits.join(', ')}`)
          .meta({ title: 'Unit of the potential', description: 'Volumes are in mL.' }),
      })
      .refine(({ decimalSign: sign, partedBy }) => sign !== 'comma' || partedBy !== 'comma', {
        error: 'another mark than the decimal sign',
        path: ['partedBy'],
      }),
  ],
  'one of the shapes status first, unit when stable, number alone, volume and potential',
);

const askText = '1 to 40 printable characters of ASCII';

/** How an instrument is reached, asked and understood. */
export const instrumentConnected = z.strictObject({
  instrument: instrumentId,
  line: z
    .discriminatedUnion('kind', [serialLine, tcpLine], 'a line of the kind serial or tcp')
    .meta({ title: 'Line' }),
  asks: z
    .strictObject({
      text: z
        .string(askText)
        .regex(/^[\x20-\x7e]{1,40}$/, askText)
        .meta({ title: 'Text', description: 'What asks it for a stable value.' }),
      end: z
        .enum(lineEnds, `one of ${lineEnds.join(', ')}`)
        .meta({ title: 'End', description: 'What ends the text.' }),
    })
    .nullable()
    .meta({ title: 'Asked by', description: 'Nothing where it cannot be asked.' }),
  sendsAllTheTime: z.boolean().meta({
    title: 'Sends all the time',
    description: 'True when it sends line after line by itself, not only on its print key.',
  }),
  dialect: dialect.meta({ title: 'What its lines look like' }),
});

export type InstrumentConnected = Readonly<z.infer<typeof instrumentConnected>>;

export const instrumentDisconnected = z.strictObject({ instrument: instrumentId });
