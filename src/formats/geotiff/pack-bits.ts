/** Byte runs (TIFF 6.0, section 9) into `out`, until it is full or the runs end: the number of bytes written. */
export function unpackRuns(packed: Uint8Array, out: Uint8Array): number {
  let written = 0;
  for (let at = 0; at < packed.length && written < out.length; ) {
    const head = packed[at++];
    if (head < 128) {
      const run = packed.subarray(at, at + Math.min(head + 1, out.length - written));
      out.set(run, written);
      written += run.length;
      at += head + 1;
    } else if (head > 128 && at < packed.length) {
      const end = Math.min(written + 257 - head, out.length);
      out.fill(packed[at++], written, end);
      written = end;
    }
  }
  return written;
}
