import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { attachmentTypeOf, FolderAttachments } from './attachments.ts';

const folder = mkdtempSync(join(tmpdir(), 'attachments-'));
afterAll(() => rmSync(folder, { recursive: true }));
const attachments = new FolderAttachments(folder);
const text = (value: string) => new TextEncoder().encode(value);

describe('attachmentTypeOf', () => {
  // Signatures: ITU-T T.81 (SOI and first marker), PNG 1.2 section 3.1, RFC 9649 section 2, ISO 32000-1 7.5.2.
  it('tells the types by their first bytes', () => {
    expect(attachmentTypeOf(Uint8Array.of(0xff, 0xd8, 0xff, 0xe0))).toBe('image/jpeg');
    expect(attachmentTypeOf(Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0))).toBe(
      'image/png',
    );
    expect(attachmentTypeOf(text('RIFF\u0001\u0002\u0003\u0004WEBPVP8 '))).toBe('image/webp');
    expect(attachmentTypeOf(text('%PDF-1.7\n'))).toBe('application/pdf');
    expect(attachmentTypeOf(text('melt;pieces\nM-1;200\n'))).toBe('text/csv');
  });

  it('tells a workbook by the parts that it names, and no other archive', () => {
    // Office Open XML (ECMA-376 part 2): a zip archive with a part of that name.
    const named = 'PK\u0003\u0004[Content_Types].xml xl/workbook.xml';
    expect(attachmentTypeOf(text(named))).toBe(
      'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
    );
    expect(attachmentTypeOf(text('PK\u0003\u0004word/document.xml,'))).toBeUndefined();
  });

  it('takes neither programs nor pages nor other bytes for a list', () => {
    expect(
      attachmentTypeOf(Uint8Array.of(0x7f, 0x45, 0x4c, 0x46, 2, 1, 1, 0, 0x2c)),
    ).toBeUndefined();
    expect(attachmentTypeOf(Uint8Array.of(0xc3, 0x28, 0x2c))).toBeUndefined();
    expect(attachmentTypeOf(text('one word'))).toBeUndefined();
    expect(attachmentTypeOf(new Uint8Array())).toBeUndefined();
  });
});

describe('FolderAttachments', () => {
  // SHA-256 of the list below, made with sha256sum of GNU coreutils.
  const hash = 'b1a45bcf20b4f975c33478db69aa3ff5dae6c44e337935b5d67420ec0e1f64d0';

  it('finds what it kept by the hash of its bytes, and leaves nothing beside it', async () => {
    const kept = await attachments.keep(text('melt;pieces\nM-1;200\n'));
    if (!kept.kept) throw new Error(kept.why);
    expect(kept.sha256).toBe(hash);
    const found = await attachments.find(kept.sha256);
    expect(found?.mediaType).toBe('text/csv');
    expect(new TextDecoder().decode(found?.bytes)).toBe('melt;pieces\nM-1;200\n');
    expect(readdirSync(join(folder, kept.sha256.slice(0, 2)))).toEqual([kept.sha256]);
    expect(await attachments.keep(text('melt;pieces\nM-1;200\n'))).toEqual(kept);
  });

  it('refuses what is of no kept type and what is too great, with what would be accepted', async () => {
    expect(await attachments.keep(text('<script>'))).toMatchObject({ kept: false });
    const great = new Uint8Array(12 * 1024 * 1024 + 1);
    great.set([0xff, 0xd8, 0xff]);
    const refused = await attachments.keep(great);
    expect(refused).toMatchObject({ kept: false, why: expect.stringContaining('12582913 bytes') });
  });

  it('finds nothing for what is no hash, and nothing outside of its folder', async () => {
    expect(await attachments.find(hash.slice(0, 32))).toBeUndefined();
    expect(await attachments.find('../../etc/passwd')).toBeUndefined();
    expect(await attachments.find('0'.repeat(64))).toBeUndefined();
  });

  it('does not hand out a file that was changed', async () => {
    const kept = await attachments.keep(text('a;b\n1;2\n'));
    if (!kept.kept) throw new Error(kept.why);
    writeFileSync(join(folder, kept.sha256.slice(0, 2), kept.sha256), 'a;b\n1;3\n');
    await expect(attachments.find(kept.sha256)).rejects.toThrow('not what it was');
  });
});
