/** How fast the work of some days went. */
export interface PaceMark {
  /** The last of the days. */
  readonly day: number;
  readonly commands: number;
  /** Processor time of the work of these days, and of the checks beside it. */
  readonly workSeconds: number;
  readonly checkSeconds: number;
  /** Memory of the process at the end of these days. */
  readonly residentMegabytes: number;
}

/** Shorter runs say nothing of a growing journal. */
const leastDays = 10;

/** Parts into which the days of a run are taken together. */
const parts = 12;

/** Keeps how fast the work goes as the journal grows. */
export class Pace {
  readonly marks: PaceMark[] = [];
  readonly #daysPerMark: number;
  #commands = 0;
  #work = 0;
  #check = 0;

  constructor(days: number) {
    this.#daysPerMark = days < leastDays ? Number.POSITIVE_INFINITY : Math.ceil(days / parts);
  }

  /** Told at the end of each day of the commands and processor seconds of the run so far. */
  dayEnded(day: number, soFar: { commands: number; work: number; check: number }): void {
    // The first day has a mark of its own: it is what later ones are held against.
    if (day !== 1 && day % this.#daysPerMark !== 0) return;
    if (!Number.isFinite(this.#daysPerMark)) return;
    const { commands, work, check } = soFar;
    this.marks.push({
      day,
      commands: commands - this.#commands,
      workSeconds: work - this.#work,
      checkSeconds: check - this.#check,
      residentMegabytes: process.memoryUsage.rss() / 2 ** 20,
    });
    [this.#commands, this.#work, this.#check] = [commands, work, check];
  }
}
