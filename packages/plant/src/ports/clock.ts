/** Where the record takes its time from. */
export interface Clock {
  /** The present instant, as milliseconds since 1970-01-01T00:00:00Z. */
  now(): number;
}
