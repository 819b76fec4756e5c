/** Whether the part behind # of an address names that section. */
export function isNamedByHash(hash: string, id: string): boolean {
  try {
    return decodeURIComponent(hash.replace(/^#/, '')) === id;
  } catch {
    return false;
  }
}

/** The part behind # that leads to a section. */
export const hashOf = (id: string): string => `#${encodeURIComponent(id)}`;
