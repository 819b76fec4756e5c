import { connect } from 'node:net';
import { SerialPort } from 'serialport';
import type { LineSettings, SerialSettings, TcpSettings } from '../../ports/instrument-line.ts';
import { watchDevice } from './device-watch.ts';

/** What a transport tells. After `lost` it tells nothing more. */
interface TransportHandlers {
  readonly opened: () => void;
  readonly came: (bytes: Uint8Array) => void;
  readonly lost: (why: string) => void;
}

/** An open line, or one that is being opened. */
export interface Transport {
  send(text: string): void;
  /** Ends it; `lost` is not called. */
  close(): void;
}

/** Handlers that tell of the first loss only, and of nothing once the line was closed. */
function once(handlers: TransportHandlers): TransportHandlers & { silence(): void } {
  let isOver = false;
  return {
    opened: () => {
      if (!isOver) handlers.opened();
    },
    came: (bytes) => {
      if (!isOver) handlers.came(bytes);
    },
    lost: (why) => {
      if (isOver) return;
      isOver = true;
      handlers.lost(why);
    },
    silence: () => {
      isOver = true;
    },
  };
}

const latin1 = (text: string) => Buffer.from(text, 'latin1');

function openSerial(settings: SerialSettings, given: TransportHandlers): Transport {
  const handlers = once(given);
  const { path, baudRate, dataBits, parity, stopBits, flow } = settings;
  const port = new SerialPort({
    path,
    baudRate,
    dataBits,
    parity,
    stopBits,
    rtscts: flow === 'hardware',
    xon: flow === 'software',
    xoff: flow === 'software',
  });
  let stopWatching = () => {};
  const end = (why: string) => {
    stopWatching();
    handlers.lost(why);
    if (port.isOpen) port.close(() => undefined);
  };
  port.on('open', () => {
    stopWatching = watchDevice(path, () => end(`${path} is unplugged`));
    handlers.opened();
  });
  port.on('data', handlers.came);
  port.on('error', (error) => end(error.message));
  port.on('close', () => end(`${path} is unplugged`));
  return {
    send: (text) => {
      port.write(latin1(text));
    },
    close: () => {
      handlers.silence();
      stopWatching();
      // A port that is still being opened is closed as soon as it is open.
      if (port.isOpen) port.close(() => undefined);
      else if (port.opening) port.once('open', () => port.close(() => undefined));
    },
  };
}

const connectMilliseconds = 5000;

function openTcp(settings: TcpSettings, given: TransportHandlers): Transport {
  const handlers = once(given);
  const { host, port } = settings;
  const socket = connect({
    host,
    port,
    noDelay: true,
    keepAlive: true,
    keepAliveInitialDelay: 10_000,
  });
  const end = (why: string) => {
    handlers.lost(why);
    socket.destroy();
  };
  socket.setTimeout(connectMilliseconds, () => end(`${host}:${port} does not answer`));
  socket.on('connect', () => {
    socket.setTimeout(0);
    handlers.opened();
  });
  socket.on('data', handlers.came);
  socket.on('error', (error) => end(error.message));
  socket.on('close', () => end(`${host}:${port} has ended the connection`));
  return {
    send: (text) => {
      socket.write(latin1(text));
    },
    close: () => {
      handlers.silence();
      socket.destroy();
    },
  };
}

/** Opens a line. */
export function openTransport(settings: LineSettings, handlers: TransportHandlers): Transport {
  return settings.kind === 'serial' ? openSerial(settings, handlers) : openTcp(settings, handlers);
}
