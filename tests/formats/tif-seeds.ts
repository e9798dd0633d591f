import { zlibSync } from 'fflate';
import type { FileBytes } from '../../src/formats/file-bytes.ts';

/** A tag with its values: numbers in a TIFF type, or text. */
export type Entry = readonly [
  tag: number,
  type: 'short' | 'long' | 'double' | 'long8' | 'ascii',
  values: readonly number[] | string,
];

/** One image: its tags but for those of its blocks, and the bytes of each block as they lie in the file (null: left out). */
export interface TifImageParts {
  readonly entries: readonly Entry[];
  readonly blocks: readonly (Uint8Array | null)[];
}

export interface TifShape {
  readonly little?: boolean;
  readonly big?: boolean;
  readonly name?: string;
}

const TYPES = { ascii: [2, 1], short: [3, 2], long: [4, 4], double: [12, 8], long8: [16, 8] } as const;

/** A TIFF or BigTIFF laid out by hand: header, then of each image its blocks, its directory and its longer values. */
export function tifFile(images: readonly TifImageParts[], shape: TifShape = {}): FileBytes {
  const { little = true, big = false, name = 'a.tif' } = shape;
  const word = big ? 8 : 4;
  const out: number[] = [];
  const put = (value: number, bytes: number) => {
    for (let k = 0; k < bytes; k++) {
      const shift = little ? k : bytes - 1 - k;
      out.push(Math.floor(value / 256 ** shift) % 256);
    }
  };
  const double = (value: number) => {
    const bytes = [...new Uint8Array(Float64Array.of(value).buffer)];
    out.push(...(little ? bytes : bytes.reverse()));
  };
  const patch = (at: number, value: number) => {
    const saved = out.length;
    put(value, word);
    out.splice(at, word, ...out.splice(saved, word));
  };
  out.push(...(little ? [0x49, 0x49] : [0x4d, 0x4d]));
  put(big ? 43 : 42, 2);
  if (big) {
    put(8, 2);
    put(0, 2);
  }
  let link = out.length;
  put(0, word);
  for (const { entries, blocks } of images) {
    const places = blocks.map((block) => {
      if (block === null) return [0, 0];
      const at = out.length;
      for (const byte of block) out.push(byte);
      return [at, block.length];
    });
    const tiled = entries.some(([tag]) => tag === 322);
    const all: Entry[] = [
      ...entries,
      ...(entries.some(([tag]) => tag === 273 || tag === 324)
        ? []
        : [
            [tiled ? 324 : 273, 'long', places.map(([at]) => at)] as const,
            [tiled ? 325 : 279, 'long', places.map(([, length]) => length)] as const,
          ]),
    ];
    all.sort(([p], [q]) => p - q);
    patch(link, out.length);
    put(all.length, big ? 8 : 2);
    const later: { at: number; entry: Entry }[] = [];
    for (const entry of all) {
      const [tag, type, values] = entry;
      put(tag, 2);
      put(TYPES[type][0], 2);
      const count = typeof values === 'string' ? values.length + 1 : values.length;
      put(count, word);
      const slot = out.length;
      if (count * TYPES[type][1] <= word) putValues(entry);
      else later.push({ at: slot, entry });
      while (out.length < slot + word) out.push(0);
    }
    link = out.length;
    put(0, word);
    for (const { at, entry } of later) {
      patch(at, out.length);
      putValues(entry);
    }
  }
  return { name, bytes: Uint8Array.from(out) };

  function putValues([, type, values]: Entry): void {
    if (typeof values === 'string') out.push(...new TextEncoder().encode(`${values}\0`));
    else for (const value of values) type === 'double' ? double(value) : put(value, TYPES[type][1]);
  }
}

/** UTM zone 15 north, pixels of 10 m, upper left corner at 458000, 4649030. */
export const IN_UTM: readonly Entry[] = [
  [33550, 'double', [10, 10, 0]],
  [33922, 'double', [0, 0, 0, 458000, 4649030, 0]],
  [34735, 'short', [1, 1, 0, 3, 1024, 0, 1, 1, 1025, 0, 1, 1, 3072, 0, 1, 32615]],
];

/** Width, height, bits, kind (1 unsigned, 2 signed, 3 floating) and the rest that every image has. */
export function layout(width: number, height: number, bits: number, kind: number, samples = 1): Entry[] {
  return [
    [256, 'long', [width]],
    [257, 'long', [height]],
    [258, 'short', Array.from({ length: samples }, () => bits)],
    [259, 'short', [1]],
    [262, 'short', [1]],
    [277, 'short', [samples]],
    [278, 'long', [height]],
    [339, 'short', Array.from({ length: samples }, () => kind)],
  ];
}

/** The same entries, some of them said otherwise (null: left out). */
export function changed(
  entries: readonly Entry[],
  ...others: readonly (Entry | readonly [number, null])[]
): Entry[] {
  const last = new Map([...entries, ...others].map((own) => [own[0], own]));
  return [...last.values()].filter((own): own is Entry => own[1] !== null);
}

/** 32-bit floating point numbers as bytes. */
export function floats(values: readonly number[], little = true): Uint8Array {
  const view = new DataView(new ArrayBuffer(4 * values.length));
  values.forEach((value, i) => {
    view.setFloat32(4 * i, value, little);
  });
  return new Uint8Array(view.buffer);
}

/** 16-bit whole numbers as bytes. */
export function shorts(values: readonly number[], little = true): Uint8Array {
  const view = new DataView(new ArrayBuffer(2 * values.length));
  values.forEach((value, i) => {
    view.setInt16(2 * i, value, little);
  });
  return new Uint8Array(view.buffer);
}

/** A raster of 4 by 3 pixels in UTM, 32-bit floating point in one strip. */
export function smallTif(
  values: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
  more: readonly (Entry | readonly [number, null])[] = [],
  shape: TifShape = {},
): FileBytes {
  const entries = changed([...layout(4, 3, 32, 3), ...IN_UTM], ...more);
  return tifFile([{ entries, blocks: [floats(values, shape.little ?? true)] }], shape);
}

/** LZW without a dictionary: each byte a code of 9 bits, the table cleared before it would grow past them. */
export function lzw(bytes: Uint8Array): Uint8Array {
  const codes: number[] = [];
  bytes.forEach((byte, i) => {
    if (i % 200 === 0) codes.push(256);
    codes.push(byte);
  });
  codes.push(257);
  const out = new Uint8Array(Math.ceil((codes.length * 9) / 8));
  codes.forEach((code, i) => {
    for (let bit = 0; bit < 9; bit++) {
      const at = 9 * i + bit;
      if ((code >> (8 - bit)) & 1) out[at >> 3] |= 0x80 >> (at & 7);
    }
  });
  return out;
}

/** PackBits in runs of up to 128 bytes as they are. */
export function packBits(bytes: Uint8Array): Uint8Array {
  const out: number[] = [];
  for (let at = 0; at < bytes.length; at += 128) {
    const run = bytes.subarray(at, at + 128);
    out.push(run.length - 1, ...run);
  }
  return Uint8Array.from(out);
}

const RAMP = Array.from({ length: 256 }, (_, i) => (i * 37) % 101);
const TILES: Entry[] = changed(
  [...layout(20, 12, 16, 2), ...IN_UTM],
  [259, 'short', [8]],
  [317, 'short', [2]],
  [278, null],
  [322, 'short', [16]],
  [323, 'short', [16]],
);

/** Small rasters, sound, of every kind that is read: to be damaged by tests of mutations. */
export const TIF_SEEDS: Readonly<Record<string, readonly FileBytes[]>> = {
  'a GeoTIFF': [
    smallTif(undefined, [
      [42112, 'ascii', '<GDALMetadata><Item name="SCALE" sample="0" role="scale">0.5</Item></GDALMetadata>'],
      [42113, 'ascii', '-9999'],
    ]),
  ],
  'a BigTIFF, high byte first': [smallTif(undefined, [], { big: true, little: false })],
  'a tiled GeoTIFF, packed, with an overview and a mask': [
    tifFile([
      { entries: TILES, blocks: [zlibSync(shorts(RAMP)), zlibSync(shorts(RAMP))] },
      {
        entries: changed(layout(10, 6, 16, 2), [254, 'long', [1]], [259, 'short', [5]]),
        blocks: [lzw(shorts(RAMP.slice(0, 60)))],
      },
      {
        entries: changed(layout(20, 12, 1, 1), [254, 'long', [4]], [259, 'short', [32773]]),
        blocks: [packBits(new Uint8Array(36).fill(0xf0))],
      },
    ]),
  ],
  'a GeoTIFF of LZW strips': [
    tifFile([
      {
        entries: changed(
          [...layout(16, 6, 32, 3), ...IN_UTM],
          [259, 'short', [5]],
          [317, 'short', [3]],
          [278, 'long', [2]],
        ),
        blocks: [0, 32, 64].map((from) => lzw(floats(RAMP.slice(from, from + 32)))),
      },
    ]),
  ],
};
