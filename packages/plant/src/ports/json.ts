/** A value that survives JSON and RFC 8785: no undefined, no bigint, no non-finite number. */
export type Json = string | number | boolean | null | readonly Json[] | JsonObject;

export interface JsonObject {
  readonly [field: string]: Json;
}
