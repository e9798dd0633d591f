const CLEAR = 256;
const END = 257;
const MOST_CODES = 4096;

/**
 * LZW as TIFF has it (TIFF 6.0, section 13): codes of 9 to 12 bits, high bit first, one code earlier than need be made wider. Unpacks into
 * `out` until it is full or the codes end; the number of bytes written, or −1 at a code that cannot be. A full table stays as it is until it is cleared:
 * writers differ in whether they clear at 4093, 4094 or 4095 codes.
 */
export function unpackLzw(packed: Uint8Array, out: Uint8Array): number {
  const prefix = new Uint16Array(MOST_CODES);
  const last = new Uint8Array(MOST_CODES);
  const first = new Uint8Array(MOST_CODES);
  const length = new Uint16Array(MOST_CODES);
  for (let code = 0; code < 256; code++) {
    last[code] = first[code] = code;
    length[code] = 1;
  }
  let next = END + 1;
  let width = 9;
  let previous = -1;
  let held = 0;
  let heldBits = 0;
  let written = 0;
  for (let at = 0; written < out.length; ) {
    while (heldBits < width && at < packed.length) {
      held = ((held & 0xfff) << 8) | packed[at++];
      heldBits += 8;
    }
    if (heldBits < width) return written;
    heldBits -= width;
    const code = (held >> heldBits) & ((1 << width) - 1);
    if (code === END) return written;
    if (code === CLEAR) {
      next = END + 1;
      width = 9;
      previous = -1;
      continue;
    }
    if (previous < 0) {
      if (code > 255) return -1;
    } else {
      if (code > next || (code === next && next === MOST_CODES)) return -1;
      if (next < MOST_CODES) {
        // A code one past the table is the previous string and its own first byte.
        prefix[next] = previous;
        first[next] = first[previous];
        last[next] = code === next ? first[previous] : first[code];
        length[next] = length[previous] + 1;
        next++;
        if (next >= (1 << width) - 1 && width < 12) width++;
      }
    }
    let place = written + length[code];
    written = Math.min(place, out.length);
    for (let rest = code; ; rest = prefix[rest]) {
      place--;
      if (place < out.length) out[place] = last[rest];
      if (rest < 256) break;
    }
    previous = code;
  }
  return written;
}
