/** What a writer did to make the rows of a block pack better; `stride` is the number of samples between a sample and its forerunner. */
export interface Rows {
  readonly rowBytes: number;
  readonly stride: number;
  readonly sampleBytes: number;
  readonly littleEndian: boolean;
}

/** Undo horizontal differencing (TIFF 6.0, section 14) in place: each sample was stored less the one before it, modulo its width. */
export function undoDifferences(block: Uint8Array, rows: Rows): void {
  const { rowBytes, stride, sampleBytes, littleEndian } = rows;
  const step = stride * sampleBytes;
  for (let row = 0; row + rowBytes <= block.length; row += rowBytes) {
    for (let at = row + step; at + sampleBytes <= row + rowBytes; at += sampleBytes) {
      // Byte by byte from the low end, with a carry: one way for every width and byte order.
      let carry = 0;
      for (let k = 0; k < sampleBytes; k++) {
        const byte = littleEndian ? at + k : at + sampleBytes - 1 - k;
        carry += block[byte] + block[byte - step];
        block[byte] = carry & 0xff;
        carry >>= 8;
      }
    }
  }
}

/**
 * Undo the floating point predictor (Adobe, TIFF Technical Note 3): each row holds all high bytes first, then all next ones, and so on, whatever the
 * byte order of the file, and those bytes are differences. The numbers are put back in the byte order of the file.
 */
export function undoFloatPlanes(block: Uint8Array, rows: Rows): void {
  const { rowBytes, stride, sampleBytes, littleEndian } = rows;
  const samples = rowBytes / sampleBytes;
  const planes = new Uint8Array(rowBytes);
  for (let row = 0; row + rowBytes <= block.length; row += rowBytes) {
    planes.set(block.subarray(row, row + rowBytes));
    for (let at = stride; at < rowBytes; at++) planes[at] += planes[at - stride];
    for (let plane = 0; plane < sampleBytes; plane++) {
      const byte = littleEndian ? sampleBytes - 1 - plane : plane;
      for (let i = 0; i < samples; i++) block[row + i * sampleBytes + byte] = planes[plane * samples + i];
    }
  }
}
