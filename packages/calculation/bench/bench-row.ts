/** One piece of work that the bench times beside the same work in numpy and scipy. */
export interface BenchRow<Data = unknown> {
  /** The work in a few words, its size included. */
  readonly what: string;
  /** What both sides work on: the same at every run, and whole as JSON. */
  readonly data: () => Data;
  /** The work; its figures are compared with those of the other side. */
  readonly work: (data: Data) => readonly number[];
  /** Greatest relative difference of a figure from that of the other side. */
  readonly tolerance: number;
}
