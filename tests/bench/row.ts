/** One measured line of the bench. `limit` applies to the ratio where there is one, else to the value; smaller is better. */
export interface Row {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly baseline?: number;
  readonly ratio?: number;
  readonly limit?: number;
  /** Short digest of the answer. */
  readonly checksum: string;
}
