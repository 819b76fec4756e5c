/**
 * Whether a text came whole from a scanner: it fills an empty field at once, or comes once more after
 * its characters stand there already. What a hand types comes letter by letter.
 */
export function isWholeScan(text: string, before: string): boolean {
  return text !== '' && (text === before || text.length > before.length + 1);
}
