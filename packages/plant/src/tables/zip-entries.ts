import { strFromU8, unzipSync } from 'fflate';

/**
 * Throws where the entries of a ZIP archive state more than `mostBytes` together: a few bytes can be
 * packed to fill any memory. What an entry states is all that it is unpacked into, so that one that
 * states too little gains nothing.
 */
export function boundUnpackedBytes(bytes: Uint8Array, mostBytes: number): void {
  let statedBytes = 0;
  unzipSync(bytes, {
    filter: ({ originalSize }) => {
      statedBytes += originalSize;
      if (statedBytes <= mostBytes) return false;
      throw new RangeError(`more than ${mostBytes} bytes when it is unpacked`);
    },
  });
}

/** The wanted entries of a ZIP archive as text, those that it has. */
export function zipTexts(
  bytes: Uint8Array,
  wanted: (name: string) => boolean,
): ReadonlyMap<string, string> {
  const entries = unzipSync(bytes, { filter: ({ name }) => wanted(name) });
  return new Map(Object.entries(entries).map(([name, content]) => [name, strFromU8(content)]));
}
