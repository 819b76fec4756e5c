/** The part of the attachments that the demonstration uses. */
export interface FolderLike {
  keep(bytes: Uint8Array): Promise<{ readonly kept: boolean; readonly sha256?: string }>;
}
