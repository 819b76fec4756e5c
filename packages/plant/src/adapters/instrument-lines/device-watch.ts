import { statSync } from 'node:fs';

const lookMilliseconds = 1000;

/** What tells a device file from one that came in its place; nothing when there is no such file. */
function identity(path: string): string | undefined {
  try {
    const { dev, ino, rdev, ctimeMs } = statSync(path);
    return `${dev} ${ino} ${rdev} ${ctimeMs}`;
  } catch {
    return undefined;
  }
}

/**
 * Looks every second whether the file of an open device is still the one that was opened. A port that
 * is pulled out in the middle of a read is otherwise read for ever without a word. Answers how to stop.
 */
export function watchDevice(path: string, onGone: () => void): () => void {
  const opened = identity(path);
  // Windows names its ports otherwise, and tells of their loss by itself.
  if (opened === undefined) return () => {};
  const timer = setInterval(() => {
    if (identity(path) === opened) return;
    clearInterval(timer);
    onGone();
  }, lookMilliseconds);
  timer.unref();
  return () => clearInterval(timer);
}
