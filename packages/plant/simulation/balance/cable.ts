import { createServer, type Server, type Socket } from 'node:net';
import { SerialPort } from 'serialport';

/** The balance's end of its cable. */
export interface Cable {
  /** Where the plant finds it: a port number, or the path it was given. */
  readonly end: { readonly tcp: number } | { readonly path: string };
  /** Calls back on every text that the plant sends. */
  onText(listener: (text: string) => void): void;
  send(text: string): void;
  unplug(): Promise<void>;
  plugIn(): Promise<void>;
}

class TcpCable implements Cable {
  #server: Server | undefined;
  readonly #sockets = new Set<Socket>();
  #listener: (text: string) => void = () => {};
  #port: number;

  constructor(port: number) {
    this.#port = port;
  }

  get end() {
    return { tcp: this.#port };
  }

  onText(listener: (text: string) => void): void {
    this.#listener = listener;
  }

  send(text: string): void {
    for (const socket of this.#sockets) socket.write(text, 'latin1');
  }

  async unplug(): Promise<void> {
    const server = this.#server;
    this.#server = undefined;
    for (const socket of this.#sockets) socket.destroy();
    this.#sockets.clear();
    if (server) await new Promise((resolve) => server.close(resolve));
  }

  async plugIn(): Promise<void> {
    const server = createServer((socket) => {
      this.#sockets.add(socket);
      socket.setEncoding('latin1');
      socket.on('data', (text) => this.#listener(String(text)));
      socket.on('error', () => socket.destroy());
      socket.on('close', () => this.#sockets.delete(socket));
    });
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(this.#port, '127.0.0.1', resolve);
    });
    const address = server.address();
    if (typeof address === 'object' && address) this.#port = address.port;
    this.#server = server;
  }
}

class SerialCable implements Cable {
  readonly end: { readonly path: string };
  #port: SerialPort | undefined;
  #listener: (text: string) => void = () => {};

  constructor(path: string) {
    this.end = { path };
  }

  onText(listener: (text: string) => void): void {
    this.#listener = listener;
  }

  send(text: string): void {
    this.#port?.write(Buffer.from(text, 'latin1'));
  }

  async unplug(): Promise<void> {
    const port = this.#port;
    this.#port = undefined;
    if (port?.isOpen) await new Promise<void>((resolve) => port.close(() => resolve()));
  }

  async plugIn(): Promise<void> {
    const port = new SerialPort({ path: this.end.path, baudRate: 9600, autoOpen: false });
    await new Promise<void>((resolve, reject) => {
      port.open((error) => (error ? reject(error) : resolve()));
    });
    port.on('data', (bytes: Buffer) => this.#listener(bytes.toString('latin1')));
    // Whoever holds the other end may pull it out.
    port.on('error', () => undefined);
    this.#port = port;
  }
}

/** A cable that ends on a port of this machine's network, 0 for any, or on a serial path. */
export function cableTo(end: Cable['end']): Cable {
  return 'tcp' in end ? new TcpCable(end.tcp) : new SerialCable(end.path);
}
