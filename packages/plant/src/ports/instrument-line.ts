/*
 * Instruments that stand on a line of their own: a serial port or a socket. What a line says is told
 * by `instrument-dialect.ts`; who keeps the settings and who shows the readings is no matter here.
 */
import type { DecodedLine, Dialect, InstrumentUnit, PotentialUnit } from './instrument-dialect.ts';

export const baudRates = [300, 600, 1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200] as const;
export const parities = ['none', 'even', 'odd'] as const;
export const flowControls = ['none', 'hardware', 'software'] as const;

/** How a serial line is set; both ends must be set alike. */
export interface SerialSettings {
  readonly kind: 'serial';
  /** The port as the machine names it, such as `/dev/ttyUSB0` or `COM3`. */
  readonly path: string;
  readonly baudRate: (typeof baudRates)[number];
  readonly dataBits: 7 | 8;
  readonly parity: (typeof parities)[number];
  readonly stopBits: 1 | 2;
  readonly flow: (typeof flowControls)[number];
}

/** An instrument, or the box its cable goes into, that answers on a port of the network. */
export interface TcpSettings {
  readonly kind: 'tcp';
  readonly host: string;
  readonly port: number;
}

export type LineSettings = SerialSettings | TcpSettings;

/** What an instrument measures, by which a reading finds the fields that it fits. */
export type Measurement = 'mass' | 'length' | 'hardness' | 'titration';

/** What each unit measures. */
export const measuredIn: Readonly<Record<InstrumentUnit, Measurement>> = {
  kg: 'mass',
  g: 'mass',
  mg: 'mass',
  mm: 'length',
  µm: 'length',
  HV: 'hardness',
};

export const lineEnds = ['CR LF', 'CR', 'LF'] as const;

/** What is sent to an instrument to be told a stable value. */
interface Ask {
  readonly text: string;
  readonly end: (typeof lineEnds)[number];
}

/** An instrument with its line, as the plant has it set. */
export interface ConnectedInstrument {
  readonly instrument: string;
  /** What people call it. */
  readonly title: string;
  readonly measures: Measurement;
  readonly line: LineSettings;
  /** How it is asked for a stable value; nothing when it cannot be asked. */
  readonly asks: Ask | null;
  /** True when it sends line after line by itself, so that a line means no press of its key. */
  readonly sendsAllTheTime: boolean;
  readonly dialect: Dialect;
}

/** A line that became a reading. It is on disk before anybody hears of it. */
export interface ReceivedLine {
  /** SHA-256 of what follows: readings name the line by it. */
  readonly received: string;
  readonly instrument: string;
  /** UTC, ISO 8601 with milliseconds. */
  readonly instant: string;
  /** The line as it came, each byte one character, without its end. */
  readonly raw: string;
  /** The digits of the number. */
  readonly text: string;
  readonly unit: InstrumentUnit;
  /** True when the instrument says that a tare is taken off. */
  readonly net: boolean;
}

/** Any line that came, with what was made of it. */
export interface HeardLine {
  readonly instant: string;
  readonly raw: string;
  readonly decoded: DecodedLine;
}

export interface LineState {
  readonly instrument: string;
  readonly title: string;
  readonly measures: Measurement;
  readonly state: 'connecting' | 'connected' | 'lost';
  /** Since when the line is in that state. */
  readonly since: string;
  /** Why the line is lost, in words. */
  readonly why: string | null;
  /** When the last line came; nothing while none has come. */
  readonly silentSince: string | null;
  /** The last lines, the newest first. */
  readonly heard: readonly HeardLine[];
  readonly canBeAsked: boolean;
  readonly sendsAllTheTime: boolean;
}

/** The points that a titrator sent of one vessel, in the order of the titration. */
export interface StreamedCurve {
  /** When its first point came; no two curves of an instrument begin in one instant. */
  readonly begun: string;
  readonly lastAt: string;
  readonly potentialUnit: PotentialUnit;
  /** Digits as they were sent, volumes in mL. */
  readonly points: readonly { readonly volume: string; readonly potential: string }[];
  /** Why a point may be missing; nothing where none can be. */
  readonly gap: string | null;
}

/** Why no reading could be taken. */
export type NoReading =
  | 'not connected'
  | 'busy'
  | 'silent'
  | 'unstable'
  | 'overload'
  | 'not understood'
  | 'unchanged';

/** What came of asking for a stable reading. */
export type Taken =
  | { readonly taken: true; readonly line: ReceivedLine }
  | {
      readonly taken: false;
      readonly because: NoReading;
      /** The last line that came while it was waited for. */
      readonly heard: HeardLine | null;
      readonly state: LineState;
    };

/** What the lines tell by themselves. */
export type LineNews =
  | { readonly news: 'reading'; readonly line: ReceivedLine; readonly measures: Measurement }
  /** The print key was pressed, but what it sent is no reading. */
  | { readonly news: 'no reading'; readonly instrument: string; readonly heard: HeardLine }
  | { readonly news: 'state'; readonly instrument: string };

/** All instruments that stand on lines. */
export interface InstrumentLines {
  states(): readonly LineState[];
  state(instrument: string): LineState | undefined;
  /** Waits for a stable reading; nothing for an instrument that stands on no line. */
  take(instrument: string, limitMilliseconds: number): Promise<Taken | undefined>;
  /** The last curves that a titrator sent, the newest first; nothing for an instrument on no line. */
  curves(instrument: string): readonly StreamedCurve[] | undefined;
  /** Calls back on everything that the lines tell by themselves; answers how to stop. */
  onNews(listener: (news: LineNews) => void): () => void;
  /** The line that became a reading, looked for in the 400 days up to that instant. */
  received(hash: string, until: string): Promise<ReceivedLine | undefined>;
}
