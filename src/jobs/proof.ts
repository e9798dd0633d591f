/** What an independent reader found in the written bytes, against the ledger. */
export interface Proof {
  readonly ok: boolean;
  readonly checks: readonly ProofCheck[];
}

export interface ProofCheck {
  /** The file read back and the reader that did it. */
  readonly file: string;
  readonly what: string;
  readonly expected: string;
  readonly found: string;
  readonly ok: boolean;
}
