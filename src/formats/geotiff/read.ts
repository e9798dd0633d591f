import type { Issue } from '../../engine/issue.ts';
import type { NumberColumn, Raster, Source } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import type { FileBytes } from '../file-bytes.ts';
import { type Format, oneLayer, type ReadOptions } from '../format.ts';
import { type Choice, chooseSampling, sampledRaster } from './choose-sampling.ts';
import { type Directory, isTif, numberOf, numbersOf, readDirectories, type TifFile } from './directory.ts';
import { type BandMeaning, bandMeanings, declaredNoData } from './gdal-tags.ts';
import { crsOfKeys } from './geo-crs.ts';
import { geoKeysOf } from './geo-keys.ts';
import { imageOf, roleOf, rowBytesOf, type TifImage } from './image.ts';
import { assumedIssue, blankAssumed, blankDeclared, oneValueIssue } from './no-data.ts';
import { systemOf, windowOf } from './place.ts';
import { classes, nothingKnown, otherImages, scaled, thinned } from './raster-issues.ts';
import { readPixels } from './read-pixels.ts';
import { refuseTif, sizeText } from './tif-refusal.ts';
import { transformOf } from './transform.ts';

export const geotiff: Format = {
  id: 'geotiff',
  title: 'GeoTIFF raster',
  extensions: ['tif', 'tiff', 'gtif'],
  recognises: ({ bytes }) => isTif(bytes),
  read: ([file], options) => oneLayer(readGeotiff(file, options)),
};

/** Numbers read of a whole raster, for looking at, and of a window, to work with: 128 MB and 512 MB of them. */
const MOST_TO_LOOK_AT = 2 ** 24;
const MOST_IN_WINDOW = 2 ** 26;
/** Bytes unpacked for one reading, beyond what a well-packed file of its size holds. */
const MOST_UNPACKED = 2 ** 30;
const USUAL_RATIO = 64;

/**
 * The first image of a GeoTIFF (OGC 19-008r4; TIFF 6.0; BigTIFF) as a raster: one column a band, one record a pixel that was read. With a window
 * the pixels over it; without one every pixel, or of a large raster a thinner set. Overviews and masks are no data of their own.
 * Throws a Refusal for what has no place, is a picture, damaged or packed in a way that is not read.
 */
export function readGeotiff(file: FileBytes, options: ReadOptions = {}): Source {
  const tif = readDirectories(file);
  const roles = tif.directories.map((directory) => roleOf(tif, directory));
  const main = Math.max(0, roles.indexOf('data'));
  const directory = tif.directories[main];
  refusePicture(tif, directory, file.name);
  const full = imageOf(tif, directory, file.name);
  const withRole = (...wanted: string[]) =>
    tif.directories.flatMap((own, k) =>
      k !== main && wanted.includes(roles[k]) ? [imageOf(tif, own, `${file.name} › image ${k + 1}`)] : [],
    );

  const keys = geoKeysOf(tif, directory);
  const placed = transformOf(tif, directory, file.name, keys.number(1025) === 2);
  const whole: Raster = { width: full.width, height: full.height, transform: placed.transform };
  const system = systemOf(crsOfKeys(keys, file.name, options), whole, file.name, options);
  const { window, issues: windowing } = windowOf(whole, system.crs, file.name, options.window);
  const most = options.window && system.crs ? MOST_IN_WINDOW : MOST_TO_LOOK_AT;
  const choice = chooseSampling([full, ...withRole('overview')], window, most);
  refuseEndless(tif, choice);

  const bands = readPixels(tif, choice.image, choice.sampling);
  const hidden = hiddenPixels(tif, directory, choice, bands, withRole('mask', 'overview-mask'));
  const meanings = bandMeanings(tif, directory, full.samples, file.name);
  const named = uniqueNames(
    hidden.measured.map((band) => meanings[band].name ?? `band ${band + 1}`),
    file.name,
  );
  const issues: Issue[] = [
    ...system.issues,
    ...placed.issues,
    ...windowing,
    ...thinned(full, choice, file.name),
    ...otherImages(roles, file.name),
    ...classes(tif, directory, file.name),
    ...named.issues,
  ];
  const noData = declaredNoData(tif, directory, file.name);
  const columns = hidden.measured.map((band, k): NumberColumn => {
    const values = bands[band];
    blankDeclared(values, noData, full.bits, full.sampleKind);
    for (let i = 0; i < values.length; i++) if (hidden.pixels?.[i] === 0) values[i] = NaN;
    const name = named.names[k];
    const assumed = blankAssumed(values);
    if (assumed.length > 0) issues.push(assumedIssue(file.name, name, assumed));
    const same = oneValueIssue(file.name, name, values);
    if (same) issues.push(same);
    apply(meanings[band], values);
    return { name, kind: 'number', values };
  });
  issues.push(
    ...scaled(
      hidden.measured.map((band) => meanings[band]),
      named.names,
      file.name,
    ),
  );

  const raster = sampledRaster(full, choice, placed.transform);
  const records = raster.width * raster.height;
  const without = countUnknown(columns, records);
  if (without === records) issues.push(nothingKnown(file.name, records));
  return {
    file: file.name,
    format: 'geotiff',
    shape: 'raster',
    crs: system.crs,
    records,
    x: new Float64Array(0),
    y: new Float64Array(0),
    rings: [],
    raster,
    columns,
    ledger: {
      read: records,
      used: records - without,
      repaired: 0,
      setAside: without > 0 ? { 'no-data': without } : {},
    },
    issues,
  };
}

/** Three or four 8-bit bands of red, green and blue are light, whatever it shows. */
function refusePicture(tif: TifFile, directory: Directory, where: string): void {
  const photometric = numberOf(tif, directory, 262, 1);
  const samples = numberOf(tif, directory, 277, 1);
  const bits = numberOf(tif, directory, 258, 1);
  if ((photometric !== 2 && photometric !== 6) || bits !== 8 || (samples !== 3 && samples !== 4)) return;
  refuseTif(
    'tif-picture',
    where,
    'a picture in red, green and blue, not measurements',
    'a raster of measured numbers',
    'Export the numbers the picture was drawn from',
  );
}

function refuseEndless({ name, bytes }: TifFile, { image, sampling }: Choice): void {
  const across = Math.min(image.blocksAcross, Math.ceil(sampling.width / image.blockWidth) + 1);
  const down = Math.min(image.blocksDown, Math.ceil(sampling.height / image.blockHeight) + 1);
  const separate = image.separate ? image.samples : 1;
  const unpacked = across * down * separate * rowBytesOf(image) * image.blockHeight;
  if (unpacked <= Math.max(MOST_UNPACKED, USUAL_RATIO * bytes.length)) return;
  refuseTif(
    'tif-too-large',
    name,
    `${sampling.width} by ${sampling.height} pixels, ${sizeText(unpacked)} to unpack from ${sizeText(bytes.length)}`,
    `at most ${sizeText(MOST_UNPACKED)} at a time`,
    'Cut it to the field, or save it with overviews',
  );
}

/** Pixels that a mask or a band of opacity blanks (0), and the bands that measure something. */
function hiddenPixels(
  tif: TifFile,
  directory: Directory,
  choice: Choice,
  bands: readonly Float64Array[],
  masks: readonly TifImage[],
): { pixels: Float64Array | null; measured: number[] } {
  const extra = numbersOf(tif, directory, 338) ?? new Float64Array(0);
  const isOpacity = (band: number) => [1, 2].includes(extra[band - (bands.length - extra.length)]);
  const measured = bands.map((_, band) => band).filter((band) => !isOpacity(band));
  const opacity = bands.findIndex((_, band) => isOpacity(band));
  const mask = masks.find(
    ({ width, height }) => width === choice.image.width && height === choice.image.height,
  );
  const pixels = mask ? readPixels(tif, mask, choice.sampling)[0] : opacity >= 0 ? bands[opacity] : null;
  return measured.length > 0
    ? { pixels, measured }
    : { pixels: null, measured: bands.map((_, band) => band) };
}

function apply({ scale, offset }: BandMeaning, values: Float64Array): void {
  if (scale === 1 && offset === 0) return;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] * scale + offset;
    values[i] = Number.isFinite(value) ? value : NaN;
  }
}

function countUnknown(columns: readonly NumberColumn[], records: number): number {
  let count = 0;
  for (let i = 0; i < records; i++) if (columns.every(({ values }) => Number.isNaN(values[i]))) count++;
  return count;
}
