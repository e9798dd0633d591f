import { unzlibSync } from 'fflate';
import type { TifFile } from './directory.ts';
import { rowBytesOf, rowsOf, type TifImage } from './image.ts';
import { unpackLzw } from './lzw.ts';
import { unpackRuns } from './pack-bits.ts';
import { undoDifferences, undoFloatPlanes } from './predictor.ts';
import { refuseTif } from './tif-refusal.ts';

/** A block unpacked: one sample after another, rows on whole bytes, numbers in the byte order of the file. Null where the file left the block out. */
export function readBlock(tif: TifFile, image: TifImage, index: number): Uint8Array | null {
  const offset = image.offsets[index];
  const count = image.byteCounts[index];
  if (offset + count === 0) return null;
  const rowBytes = rowBytesOf(image);
  const needed = rowBytes * rowsOf(image, Math.floor(index / image.blocksAcross) % image.blocksDown);
  // No packing makes data half as long again; what comes after is not looked at.
  const packed = tif.bytes.subarray(offset, offset + Math.min(count, 2 * needed + 4096));
  if (image.compression === 1) return packed.subarray(0, needed);
  const block = new Uint8Array(needed);
  const written = unpack(image.compression, packed, block);
  if (written < needed) {
    refuseTif(
      'tif-damaged',
      `${image.where} › ${image.isTiled ? 'tile' : 'strip'} ${index + 1}`,
      written < 0 ? 'packed data that cannot be unpacked' : `data that unpack to ${written} bytes`,
      `${needed} bytes`,
      'Copy or export the raster again',
    );
  }
  const sampleBytes = image.bits / 8;
  const rows = {
    rowBytes,
    stride: image.separate ? 1 : image.samples,
    sampleBytes,
    littleEndian: tif.littleEndian,
  };
  if (image.predictor === 2) undoDifferences(block, rows);
  if (image.predictor === 3) undoFloatPlanes(block, rows);
  return block;
}

/** Bytes written to `out`, −1 where the packed data make no sense. */
function unpack(compression: number, packed: Uint8Array, out: Uint8Array): number {
  if (compression === 5) return unpackLzw(packed, out);
  if (compression === 32773) return unpackRuns(packed, out);
  try {
    return unzlibSync(packed, { out }).length;
  } catch {
    return -1;
  }
}
