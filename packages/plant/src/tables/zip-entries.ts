/** A ZIP archive whose directory does not fit what stands in it. */
export class ZipUnfit extends Error {}

const endSignature = 0x0605_4b50;
const entrySignature = 0x0201_4b50;
const endLength = 22;
const greatestComment = 65_535;

interface Entry {
  readonly name: string;
  readonly method: number;
  readonly packedBytes: number;
  readonly at: number;
}

/** Where the directory of the archive ends: its last record, behind which only a comment may stand. */
function endOfDirectory(view: DataView): number {
  const last = view.byteLength - endLength;
  for (let at = last; at >= Math.max(0, last - greatestComment); at -= 1) {
    if (view.getUint32(at, true) === endSignature) return at;
  }
  throw new ZipUnfit('an archive without a directory');
}

function entriesOf(view: DataView, bytes: Uint8Array): readonly Entry[] {
  const end = endOfDirectory(view);
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  const entries: Entry[] = [];
  for (let index = 0; index < count; index += 1) {
    if (view.getUint32(at, true) !== entrySignature) throw new ZipUnfit('a broken directory');
    const nameLength = view.getUint16(at + 28, true);
    const name = bytes.subarray(at + 46, at + 46 + nameLength);
    entries.push({
      name: new TextDecoder().decode(name),
      method: view.getUint16(at + 10, true),
      packedBytes: view.getUint32(at + 20, true),
      at: view.getUint32(at + 42, true),
    });
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return entries;
}

const unpacking = (packed: Uint8Array): ReadableStream<Uint8Array> =>
  new Blob([new Uint8Array(packed)]).stream().pipeThrough(new DecompressionStream('deflate-raw'));

/** What an entry holds, as it is packed. */
function packedOf(view: DataView, bytes: Uint8Array, { at, packedBytes }: Entry): Uint8Array {
  const start = at + 30 + view.getUint16(at + 26, true) + view.getUint16(at + 28, true);
  return bytes.subarray(start, start + packedBytes);
}

const viewOf = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/**
 * Unpacks an archive into nothing and counts: a few bytes can be packed to fill any memory, whatever
 * size their directory states. Throws at the first byte beyond `mostBytes`.
 */
export async function boundUnpackedBytes(bytes: Uint8Array, mostBytes: number): Promise<void> {
  const view = viewOf(bytes);
  let counted = 0;
  const count = (more: number): void => {
    counted += more;
    if (counted > mostBytes) throw new ZipUnfit(`more than ${mostBytes} bytes when it is unpacked`);
  };
  for (const entry of entriesOf(view, bytes)) {
    const packed = packedOf(view, bytes, entry);
    if (entry.method !== 8) count(packed.length);
    else for await (const part of unpacking(packed)) count(part.length);
  }
}

/**
 * The named entries of a ZIP archive as text, those that it has: stored or deflated, as workbooks are
 * packed.
 */
export async function zipTexts(
  bytes: Uint8Array,
  wanted: (name: string) => boolean,
): Promise<ReadonlyMap<string, string>> {
  const view = viewOf(bytes);
  const texts = new Map<string, string>();
  for (const entry of entriesOf(view, bytes)) {
    const { name, method } = entry;
    if (!wanted(name)) continue;
    const packed = packedOf(view, bytes, entry);
    if (method !== 0 && method !== 8) throw new ZipUnfit(`${name} is packed in a strange way`);
    const text =
      method === 0 ? new TextDecoder().decode(packed) : new Response(unpacking(packed)).text();
    texts.set(name, await text);
  }
  return texts;
}
