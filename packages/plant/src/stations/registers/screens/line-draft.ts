import type { Dialect } from '../../../ports/instrument-dialect.ts';
import { decodeLine, partingMarks, potentialUnits } from '../../../ports/instrument-dialect.ts';
import { baudRates, flowControls, lineEnds, parities } from '../../../ports/instrument-line.ts';
import { decimalOf } from '../../../workbench/index.ts';
import type { InstrumentConnected } from '../lines/bodies.ts';

/** The settings of a line while they are typed. */
export interface LineDraft {
  readonly kind: 'serial' | 'tcp';
  readonly path: string;
  readonly baudRate: string;
  readonly dataBits: string;
  readonly parity: string;
  readonly stopBits: string;
  readonly flow: string;
  readonly host: string;
  readonly port: string;
  readonly shape: Dialect['shape'];
  readonly decimalSign: Dialect['decimalSign'];
  readonly stable: string;
  readonly unstable: string;
  readonly overload: string;
  readonly net: string;
  readonly gross: string;
  readonly unit: string;
  readonly partedBy: string;
  readonly potentialUnit: string;
  readonly asks: string;
  readonly askEnd: string;
  readonly sendsAllTheTime: boolean;
}

/** What instruments are most often set to when they come. */
export const usualLine: LineDraft = {
  kind: 'serial',
  path: '',
  baudRate: '9600',
  dataBits: '8',
  parity: 'none',
  stopBits: '1',
  flow: 'none',
  host: '',
  port: '',
  shape: 'status first',
  decimalSign: 'point',
  stable: 'ST',
  unstable: 'US',
  overload: 'OL',
  net: 'NT',
  gross: 'GS',
  unit: 'mm',
  partedBy: 'semicolon',
  potentialUnit: 'mV',
  asks: '',
  askEnd: 'CR LF',
  sendsAllTheTime: false,
};

/** What a titrator is most often set to: it sends each point as it is read. */
export const usualTitrator: LineDraft = {
  ...usualLine,
  shape: 'volume and potential',
  sendsAllTheTime: true,
};

/** The draft of settings that are in force. */
export function lineDraftOf(settings: InstrumentConnected): LineDraft {
  const { line, dialect, asks, sendsAllTheTime } = settings;
  const serial =
    line.kind === 'serial'
      ? {
          path: line.path,
          baudRate: String(line.baudRate),
          dataBits: String(line.dataBits),
          parity: line.parity,
          stopBits: String(line.stopBits),
          flow: line.flow,
        }
      : { host: line.host, port: String(line.port) };
  const { net = null, gross = null } = dialect.shape === 'status first' ? dialect : {};
  return {
    ...usualLine,
    ...serial,
    ...dialect,
    net: net ?? '',
    gross: gross ?? '',
    kind: line.kind,
    asks: asks?.text ?? '',
    askEnd: asks?.end ?? usualLine.askEnd,
    sendsAllTheTime,
  };
}

const markOf = (text: string): string | null => text.trim() || null;

function dialectInput(draft: LineDraft): object {
  const { shape, decimalSign } = draft;
  switch (shape) {
    case 'status first':
      return {
        shape,
        decimalSign,
        stable: draft.stable.trim(),
        unstable: draft.unstable.trim(),
        overload: draft.overload.trim(),
        net: markOf(draft.net),
        gross: markOf(draft.gross),
      };
    case 'unit when stable':
      return { shape, decimalSign };
    case 'number alone':
      return { shape, decimalSign, unit: draft.unit };
    case 'volume and potential':
      return { shape, decimalSign, partedBy: draft.partedBy, potentialUnit: draft.potentialUnit };
  }
}

function lineInput(draft: LineDraft): object {
  if (draft.kind === 'tcp') {
    return { kind: 'tcp', host: draft.host.trim(), port: decimalOf(draft.port) };
  }
  const { path, baudRate, dataBits, parity, stopBits, flow } = draft;
  return {
    kind: 'serial',
    path: path.trim(),
    baudRate: Number(baudRate),
    dataBits: Number(dataBits),
    parity,
    stopBits: Number(stopBits),
    flow,
  };
}

/** The input of `connect-instrument`. What was typed wrong goes as it stands, to be refused by name. */
export function lineInputOf(instrument: string, draft: LineDraft) {
  const { asks, askEnd, sendsAllTheTime } = draft;
  return {
    instrument,
    line: lineInput(draft),
    asks: asks === '' ? null : { text: asks, end: askEnd },
    sendsAllTheTime,
    dialect: dialectInput(draft),
  };
}

const markText: Readonly<Record<string, string>> = {
  semicolon: '; ',
  comma: ', ',
  tab: '\t',
  blanks: '  ',
};

/** A line as the instrument would send it, by the settings. */
export function exampleLine(draft: LineDraft): string {
  const number = draft.decimalSign === 'comma' ? '12,3456' : '12.3456';
  switch (draft.shape) {
    case 'status first':
      return `${[draft.stable, draft.gross].filter(Boolean).join(',')},+   ${number} g`;
    case 'unit when stable':
      return `+   ${number} g`;
    case 'number alone':
      return number;
    case 'volume and potential':
      return `${number}${markText[draft.partedBy] ?? ';'}-123${number.charAt(2)}4`;
  }
}

/** What the plant would make of a line, in words. */
export function decodedWords(raw: string, draft: LineDraft): string {
  const decoded = decodeLine(raw, dialectInput(draft) as Dialect);
  switch (decoded.says) {
    case 'stable':
      return `Stable: ${decoded.text} ${decoded.unit}${decoded.net ? ', net of a tare' : ''}.`;
    case 'point':
      return `A point at ${decoded.volume} mL: ${decoded.potential} ${draft.potentialUnit}.`;
    case 'unstable':
      return 'Not stable: no reading.';
    case 'overload':
      return 'Out of range: no reading.';
    case 'not understood':
      return `Not understood: ${decoded.why}.`;
  }
}

const choices = (values: readonly (string | number)[]) =>
  values.map((value) => ({ value: String(value), label: String(value) }));

export const lineChoices = {
  kind: [
    { value: 'serial', label: 'Serial port' },
    { value: 'tcp', label: 'Network' },
  ],
  baudRate: choices(baudRates),
  dataBits: choices([7, 8]),
  parity: choices(parities),
  stopBits: choices([1, 2]),
  flow: choices(flowControls),
  askEnd: choices(lineEnds),
  decimalSign: choices(['point', 'comma']),
  partedBy: choices(partingMarks),
  potentialUnit: choices(potentialUnits),
  shape: [
    { value: 'status first', label: 'Status letters, sign, number, unit' },
    { value: 'unit when stable', label: 'Sign, number, unit once stable' },
    { value: 'number alone', label: 'A number alone' },
    { value: 'volume and potential', label: 'Volume and potential' },
  ],
} as const;
