import { deflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { readTableFile } from './table-file.ts';
import { boundUnpackedBytes, zipTexts } from './zip-entries.ts';

/** An archive of one deflated entry that states a size of its own, as APPNOTE.TXT 4.3 lays it out. */
function archive(name: string, content: Uint8Array, statedBytes = content.length): Uint8Array {
  const packed = deflateRawSync(content);
  const local = Buffer.alloc(30 + name.length);
  local.writeUInt32LE(0x0403_4b50, 0);
  local.writeUInt16LE(8, 8);
  local.writeUInt32LE(packed.length, 18);
  local.writeUInt32LE(statedBytes, 22);
  local.writeUInt16LE(name.length, 26);
  local.write(name, 30);
  const directory = Buffer.alloc(46 + name.length);
  directory.writeUInt32LE(0x0201_4b50, 0);
  directory.writeUInt16LE(8, 10);
  directory.writeUInt32LE(packed.length, 20);
  directory.writeUInt32LE(statedBytes, 24);
  directory.writeUInt16LE(name.length, 28);
  directory.write(name, 46);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x0605_4b50, 0);
  end.writeUInt16LE(1, 8);
  end.writeUInt16LE(1, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(local.length + packed.length, 16);
  return new Uint8Array(Buffer.concat([local, packed, directory, end]));
}

describe('a ZIP archive', () => {
  it('gives the texts of its entries', () => {
    const bytes = archive('a.txt', new TextEncoder().encode('twelve grams'));
    expect([...zipTexts(bytes, () => true)]).toEqual([['a.txt', 'twelve grams']]);
    expect(() => boundUnpackedBytes(bytes, 12)).not.toThrow();
    expect(() => boundUnpackedBytes(bytes, 11)).toThrow('more than 11 bytes');
  });

  const zeros = new Uint8Array(160 * 1024 * 1024);

  it('is refused as a workbook when it unpacks to more than memory should hold', async () => {
    const bytes = archive('xl/workbook.xml', zeros);
    expect(bytes.length).toBeLessThan(1024 * 1024);
    const { read } = await readTableFile(bytes);
    expect(read).toMatchObject({
      outcome: 'problem',
      problem: { value: 'more than 134217728 bytes when it is unpacked' },
    });
  });

  it('unpacks no entry into more than it states', async () => {
    const bytes = archive('xl/workbook.xml', zeros, 1000);
    expect(zipTexts(bytes, () => true).get('xl/workbook.xml')?.length ?? 0).toBeLessThanOrEqual(
      1000,
    );
    expect((await readTableFile(bytes)).read).toMatchObject({ outcome: 'problem' });
  });
});
