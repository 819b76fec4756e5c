import { VirtualClock } from '../demonstration/hand.ts';

/** The server's clock as it shows: true virtual time, and how far somebody has set it wrong. */
export class SteppingClock extends VirtualClock {
  #wrongMilliseconds = 0;

  /** True virtual time; people live by it. */
  trueTime(): number {
    return super.now();
  }

  override now(): number {
    return super.now() + this.#wrongMilliseconds;
  }

  /** Sets the clock wrong by so many minutes; 0 sets it right. */
  step(minutes: number): void {
    this.#wrongMilliseconds = minutes * 60_000;
  }

  isWrong(): boolean {
    return this.#wrongMilliseconds !== 0;
  }
}
