import type { PixelRange } from '../../engine/layers/pixels-over.ts';
import type { TifFile } from './directory.ts';
import { rowBytesOf, type TifImage } from './image.ts';
import { readBlock } from './read-block.ts';

/** Every `step`-th pixel of a window, from the middle of the first square of `step` by `step`. */
export interface Sampling extends PixelRange {
  readonly step: number;
}

/** Columns and rows a sampling yields. */
export function sizeOf({ width, height, step }: Sampling): { width: number; height: number } {
  return { width: Math.floor(width / step), height: Math.floor(height / step) };
}

/** The stored numbers of each band, row by row; NaN in blocks the file left out. One block is unpacked at a time. */
export function readPixels(tif: TifFile, image: TifImage, sampling: Sampling): Float64Array[] {
  const size = sizeOf(sampling);
  const bands = Array.from({ length: image.samples }, () => new Float64Array(size.width * size.height));
  const cols = taken(sampling.col, size.width, sampling.step, image.blockWidth);
  const rows = taken(sampling.row, size.height, sampling.step, image.blockHeight);
  for (const down of rows) {
    for (const across of cols) {
      const first = down.block * image.blocksAcross + across.block;
      if (!image.separate) {
        spread(tif, image, readBlock(tif, image, first), down, across, bands, size.width);
        continue;
      }
      const perBand = image.blocksAcross * image.blocksDown;
      for (let band = 0; band < bands.length; band++) {
        const block = readBlock(tif, image, first + band * perBand);
        spread(tif, image, block, down, across, [bands[band]], size.width);
      }
    }
  }
  return bands;
}

/** Of one block, along one side: its number, and the places in the result its pixels go to. */
interface Stretch {
  readonly block: number;
  readonly from: number;
  readonly to: number;
  /** Pixel in the block of the first place, and the step to the next. */
  readonly first: number;
  readonly step: number;
}

function taken(start: number, count: number, step: number, blockSize: number): Stretch[] {
  const stretches: Stretch[] = [];
  const pixel = (place: number) => start + place * step + Math.floor(step / 2);
  for (let from = 0; from < count; ) {
    const block = Math.floor(pixel(from) / blockSize);
    const to = Math.min(count, from + Math.ceil(((block + 1) * blockSize - pixel(from)) / step));
    stretches.push({ block, from, to, first: pixel(from) - block * blockSize, step });
    from = to;
  }
  return stretches;
}

function spread(
  { littleEndian }: TifFile,
  image: TifImage,
  block: Uint8Array | null,
  down: Stretch,
  across: Stretch,
  bands: readonly Float64Array[],
  width: number,
): void {
  if (block === null) {
    for (const band of bands) {
      for (let row = down.from; row < down.to; row++)
        band.fill(NaN, row * width + across.from, row * width + across.to);
    }
    return;
  }
  const rowBytes = rowBytesOf(image);
  const read = sampleReader(image, block, littleEndian);
  bands.forEach((values, band) => {
    for (let row = down.from; row < down.to; row++) {
      const rowAt = (down.first + (row - down.from) * down.step) * rowBytes;
      let pixel = across.first;
      for (let place = row * width + across.from; place < row * width + across.to; place++) {
        values[place] = read(rowAt, pixel * bands.length + band);
        pixel += across.step;
      }
    }
  });
}

/** Reads sample `n` of the row that starts at byte `row`. */
function sampleReader(
  { sampleKind, bits }: TifImage,
  block: Uint8Array,
  little: boolean,
): (row: number, n: number) => number {
  const view = new DataView(block.buffer, block.byteOffset, block.byteLength);
  switch (`${sampleKind} ${bits}`) {
    case 'unsigned 8':
      return (row, n) => block[row + n];
    case 'unsigned 16':
      return (row, n) => view.getUint16(row + 2 * n, little);
    case 'unsigned 32':
      return (row, n) => view.getUint32(row + 4 * n, little);
    case 'signed 8':
      return (row, n) => view.getInt8(row + n);
    case 'signed 16':
      return (row, n) => view.getInt16(row + 2 * n, little);
    case 'signed 32':
      return (row, n) => view.getInt32(row + 4 * n, little);
    case 'float 16':
      return (row, n) => halfFloat(view.getUint16(row + 2 * n, little));
    case 'float 32':
      return (row, n) => view.getFloat32(row + 4 * n, little);
    case 'float 64':
      return (row, n) => view.getFloat64(row + 8 * n, little);
    default: {
      // 1, 2 or 4 bits, from the high end of the byte.
      const mask = (1 << bits) - 1;
      return (row, n) => (block[row + ((n * bits) >> 3)] >> (8 - bits - ((n * bits) & 7))) & mask;
    }
  }
}

/** IEEE 754 binary16. */
function halfFloat(word: number): number {
  const sign = word & 0x8000 ? -1 : 1;
  const exponent = (word >> 10) & 31;
  const fraction = word & 1023;
  if (exponent === 31) return fraction ? NaN : sign * Infinity;
  if (exponent === 0) return sign * fraction * 2 ** -24;
  return sign * (1024 + fraction) * 2 ** (exponent - 25);
}
