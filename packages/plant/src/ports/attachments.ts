/** What may be kept beside the journal, each told by its first bytes. */
export const attachmentTypes = [
  'image/jpeg',
  'image/png',
  'image/webp',
  'application/pdf',
  'text/csv',
  'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
] as const;

export type AttachmentType = (typeof attachmentTypes)[number];

/** A file beside the journal: entries name it by its hash. */
export interface Attachment {
  readonly sha256: string;
  readonly mediaType: AttachmentType;
  readonly bytes: Uint8Array;
}

/** What came of keeping a file. */
export type Kept =
  | { readonly kept: true; readonly sha256: string; readonly mediaType: AttachmentType }
  | { readonly kept: false; readonly why: string; readonly accepted: string };

/** Files beside the journal, found by their hash. What is kept is never changed. */
export interface Attachments {
  /** The greatest file that is taken, in bytes. */
  readonly greatestBytes: number;
  keep(bytes: Uint8Array): Promise<Kept>;
  find(sha256: string): Promise<Attachment | undefined>;
}
