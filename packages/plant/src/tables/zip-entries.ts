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

async function unpacked(packed: Uint8Array): Promise<string> {
  const stream = new Blob([new Uint8Array(packed)])
    .stream()
    .pipeThrough(new DecompressionStream('deflate-raw'));
  return new Response(stream).text();
}

/**
 * The named entries of a ZIP archive as text, those that it has: stored or deflated, as workbooks are
 * packed.
 */
export async function zipTexts(
  bytes: Uint8Array,
  wanted: (name: string) => boolean,
): Promise<ReadonlyMap<string, string>> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const texts = new Map<string, string>();
  for (const { name, method, packedBytes, at } of entriesOf(view, bytes)) {
    if (!wanted(name)) continue;
    const start = at + 30 + view.getUint16(at + 26, true) + view.getUint16(at + 28, true);
    const packed = bytes.subarray(start, start + packedBytes);
    if (method !== 0 && method !== 8) throw new ZipUnfit(`${name} is packed in a strange way`);
    texts.set(name, method === 0 ? new TextDecoder().decode(packed) : await unpacked(packed));
  }
  return texts;
}
