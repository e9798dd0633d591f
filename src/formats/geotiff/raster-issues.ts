import type { Issue } from '../../engine/issue.ts';
import type { Choice } from './choose-sampling.ts';
import { type Directory, numberOf, type TifFile } from './directory.ts';
import type { BandMeaning } from './gdal-tags.ts';
import type { TifImage } from './image.ts';

/** The note for a raster not read whole, to be looked at. */
export function thinned(full: TifImage, { image, sampling }: Choice, where: string): Issue[] {
  if (image === full && sampling.step === 1) return [];
  const how =
    image === full
      ? `every ${sampling.step}th pixel each way`
      : `an overview of ${image.width} by ${image.height}`;
  const issue: Issue = {
    code: 'tif-thinned',
    severity: 'note',
    where,
    found: `${full.width} by ${full.height} pixels in ${full.samples === 1 ? 'one band' : `${full.samples} bands`}`,
    expected: 'a raster that fits into memory whole',
    effect: `Read: ${how}. That is for looking at; a field's means are taken from all pixels over it where they fit`,
    remedy: 'Nothing to do, or cut the raster to the field',
  };
  return [issue];
}

export function otherImages(roles: readonly string[], where: string): Issue[] {
  const others = roles.filter((role) => role === 'data').length - 1;
  if (others < 1) return [];
  const issue: Issue = {
    code: 'tif-more-images',
    severity: 'warning',
    where,
    found: `${others + 1} images in one file`,
    expected: 'one image, its overviews and masks',
    effect: 'The first is read, the others are not',
    remedy: 'Save each image as a file of its own if you need them',
  };
  return [issue];
}

export function classes(tif: TifFile, directory: Directory, where: string): Issue[] {
  if (numberOf(tif, directory, 262, 1) !== 3) return [];
  const issue: Issue = {
    code: 'tif-classes',
    severity: 'warning',
    where,
    found: 'a table of colours: the numbers are names of classes',
    expected: 'measured numbers',
    effect: 'They are read as they are; a mean of them says nothing',
    remedy: 'Use the raster only where it measures something',
  };
  return [issue];
}

export function scaled(meanings: readonly BandMeaning[], names: readonly string[], where: string): Issue[] {
  const told = meanings.flatMap(({ scale, offset }, k) =>
    scale === 1 && offset === 0 ? [] : [`${names[k]} = stored · ${scale} + ${offset}`],
  );
  if (told.length === 0) return [];
  const issue: Issue = {
    code: 'tif-scaled',
    severity: 'note',
    where,
    found: told.slice(0, 8).join(', '),
    expected: 'numbers as measured, or a stated scale',
    effect: 'The stated scale is applied',
    remedy: 'Nothing to do',
  };
  return [issue];
}

export function nothingKnown(where: string, records: number): Issue {
  return {
    code: 'tif-all-no-data',
    severity: 'warning',
    where,
    found: `${records} pixels, none with a known value`,
    expected: 'values',
    effect: 'There is nothing to use in it',
    remedy: 'Export it again, or choose another raster',
  };
}
