import { type Directory, numberOf, numbersOf, type TifFile } from './directory.ts';
import { refuseTif, sizeText } from './tif-refusal.ts';

/** One image of the file, its layout checked: blocks are strips or tiles, each packed by itself. */
export interface TifImage {
  readonly where: string;
  readonly width: number;
  readonly height: number;
  readonly samples: number;
  readonly sampleKind: 'unsigned' | 'signed' | 'float';
  readonly bits: number;
  readonly compression: number;
  readonly predictor: 1 | 2 | 3;
  /** Each sample in blocks of its own. */
  readonly separate: boolean;
  readonly blockWidth: number;
  readonly blockHeight: number;
  readonly blocksAcross: number;
  readonly blocksDown: number;
  readonly offsets: Float64Array;
  readonly byteCounts: Float64Array;
  readonly isTiled: boolean;
}

/** What the file says an image is: `data`, a smaller copy of it, or a mask that tells which of its pixels count. */
export type ImageRole = 'data' | 'overview' | 'mask' | 'overview-mask';

/** From the subfile type (tag 254, or its forerunner 255). */
export function roleOf(tif: TifFile, directory: Directory): ImageRole {
  const type = numberOf(tif, directory, 254, 0);
  const smaller = (type & 1) !== 0 || numberOf(tif, directory, 255, 1) === 2;
  if ((type & 4) !== 0) return smaller ? 'overview-mask' : 'mask';
  return smaller ? 'overview' : 'data';
}

/** Unpacked bytes of one block, of which one is held at a time. */
const MOST_BLOCK_BYTES = 2 ** 28;
const MOST_SAMPLES = 4096;
const READ_AS = 'Save it without compression, or with LZW or Deflate';

/**
 * How many bytes one packed byte can stand for: Deflate 258 bytes in 2 bits, LZW 3,839 in 12, PackBits 128 in 16. What claims more is not
 * unpacked, and nothing is set aside for it.
 */
const MOST_RATIO: Readonly<Record<number, number>> = { 1: 1, 5: 2560, 8: 1032, 32946: 1032, 32773: 64 };

const COMPRESSIONS: Readonly<Record<number, string>> = {
  2: 'CCITT',
  3: 'CCITT fax 3',
  4: 'CCITT fax 4',
  6: 'old JPEG',
  7: 'JPEG',
  34712: 'JPEG 2000',
  34887: 'LERC',
  34925: 'LZMA',
  50000: 'Zstandard',
  50001: 'WebP',
  50002: 'JPEG XL',
};

/** Checks the layout of one image before anything is allocated for it. */
export function imageOf(tif: TifFile, directory: Directory, where: string): TifImage {
  const number = (tag: number, otherwise: number) => numberOf(tif, directory, tag, otherwise);
  const width = number(256, 0);
  const height = number(257, 0);
  if (!(width > 0 && height > 0)) {
    refuseTif('tif-no-size', where, `${width} by ${height} pixels`, 'at least one pixel');
  }
  const samples = number(277, 1);
  if (!(samples >= 1 && samples <= MOST_SAMPLES)) {
    refuseTif('tif-structure', where, `${samples} bands`, `1 to ${MOST_SAMPLES} bands`);
  }
  const encoding = encodingOf(tif, directory, where, samples);
  const separate = number(284, 1) === 2;
  const isTiled = directory.has(322);
  const blockWidth = isTiled ? number(322, 0) : width;
  // A strip may be said to have more rows than the image, 2^32 − 1 by some writers.
  const blockHeight = isTiled ? number(323, 0) : Math.min(number(278, height), height);
  if (!(blockWidth > 0 && blockHeight > 0)) {
    refuseTif('tif-no-size', where, `blocks of ${blockWidth} by ${blockHeight} pixels`, 'at least one pixel');
  }
  const image = {
    ...encoding,
    ...{ where, width, height, samples, separate, isTiled, blockWidth, blockHeight },
    blocksAcross: Math.ceil(width / blockWidth),
    blocksDown: Math.ceil(height / blockHeight),
    offsets: numbersOf(tif, directory, isTiled ? 324 : 273) ?? new Float64Array(0),
    byteCounts: numbersOf(tif, directory, isTiled ? 325 : 279) ?? new Float64Array(0),
  };
  checkBlocks(tif, image);
  return image;
}

function encodingOf(tif: TifFile, directory: Directory, where: string, samples: number) {
  const refuse = (found: string, expected: string): never =>
    refuseTif('tif-encoding', where, found, expected, READ_AS);
  const compression = numberOf(tif, directory, 259, 1);
  if (MOST_RATIO[compression] === undefined) {
    const name = COMPRESSIONS[compression];
    refuse(
      `compression ${compression}${name ? ` (${name})` : ', which is not known'}`,
      'none, LZW, Deflate or PackBits',
    );
  }
  const allBits = numbersOf(tif, directory, 258) ?? Float64Array.of(1);
  const bits = allBits[0] ?? 1;
  const mixed = allBits.subarray(0, samples).find((own) => own !== bits);
  if (mixed !== undefined) refuse(`bands of ${bits} and of ${mixed} bits`, 'bands of one width');
  const format = numberOf(tif, directory, 339, 1);
  const sampleKind =
    format === 1 || format === 4 ? 'unsigned' : format === 2 ? 'signed' : format === 3 ? 'float' : null;
  if (sampleKind === null) return refuse(`sample format ${format}`, 'whole numbers or floating point');
  const widths = { unsigned: [1, 2, 4, 8, 16, 32], signed: [8, 16, 32], float: [16, 32, 64] }[sampleKind];
  if (!widths.includes(bits)) refuse(`${sampleKind} samples of ${bits} bits`, `${widths.join(', ')} bits`);
  const predictor = numberOf(tif, directory, 317, 1);
  const possible =
    predictor === 1 || (predictor === 2 && bits >= 8) || (predictor === 3 && sampleKind === 'float');
  if (!possible || compression === 1 || compression === 32773) {
    // Only LZW and Deflate have predictors; other writers' leftovers are passed over.
    if (possible) return { compression, bits, sampleKind, predictor: 1 } as const;
    refuse(`predictor ${predictor} on ${sampleKind} samples of ${bits} bits`, 'a predictor that fits them');
  }
  if (bits < 8 && numberOf(tif, directory, 266, 1) === 2)
    refuse('bits filled from the low end', 'from the high end');
  return { compression, bits, sampleKind, predictor: predictor as 1 | 2 | 3 } as const;
}

/** Unpacked bytes of one row of a block; rows start on whole bytes. */
export function rowBytesOf({ blockWidth, separate, samples, bits }: TifImage): number {
  return Math.ceil((blockWidth * (separate ? 1 : samples) * bits) / 8);
}

/** Rows a block really holds: a tile is always full, the last strip ends with the image. */
export function rowsOf({ isTiled, blockHeight, height }: TifImage, down: number): number {
  return isTiled ? blockHeight : Math.min(blockHeight, height - down * blockHeight);
}

function checkBlocks({ bytes }: TifFile, image: TifImage): void {
  const { where, width, height, samples, bits, offsets, byteCounts } = image;
  const what = image.isTiled ? 'tile' : 'strip';
  const blockBytes = rowBytesOf(image) * image.blockHeight;
  if (blockBytes > MOST_BLOCK_BYTES) {
    const whole = sizeText((width * height * samples * bits) / 8);
    refuseTif(
      'tif-too-large',
      where,
      `${width} by ${height} pixels that need ${whole}, ${sizeText(blockBytes)} in one ${what}, in a file of ${sizeText(bytes.length)}`,
      `${what}s of at most ${sizeText(MOST_BLOCK_BYTES)}`,
      'Save it in tiles, or cut it to the field',
    );
  }
  const blocks = image.blocksAcross * image.blocksDown * (image.separate ? samples : 1);
  if (offsets.length < blocks || byteCounts.length < blocks) {
    refuseTif(
      'tif-truncated',
      where,
      `${Math.min(offsets.length, byteCounts.length)} ${what}s for ${width} by ${height} pixels`,
      `${blocks} ${what}s`,
    );
  }
  for (let k = 0; k < blocks; k++) {
    const end = offsets[k] + byteCounts[k];
    // Nothing at nowhere is how a block without data is left out.
    if (end === 0) continue;
    const named = `${where} › ${what} ${k + 1}`;
    if (!(end <= bytes.length) || byteCounts[k] === 0) {
      refuseTif(
        'tif-truncated',
        named,
        `bytes ${offsets[k]} to ${end} of a file of ${bytes.length}`,
        'data inside the file',
        'Copy or export the raster again',
      );
    }
    const down = Math.floor(k / image.blocksAcross) % image.blocksDown;
    const needed = rowBytesOf(image) * rowsOf(image, down);
    if (needed > byteCounts[k] * MOST_RATIO[image.compression]) {
      refuseTif(
        'tif-truncated',
        named,
        `${byteCounts[k]} bytes, which cannot hold ${needed}`,
        `${needed} bytes when unpacked`,
      );
    }
  }
}
