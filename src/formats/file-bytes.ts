/** A file as handed over: its name (folders allowed, never opened) and its bytes. */
export interface FileBytes {
  readonly name: string;
  readonly bytes: Uint8Array;
}
