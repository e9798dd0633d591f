import { Refusal } from '../../engine/issue.ts';

export function refuseTif(
  code: string,
  where: string,
  found: string,
  expected: string,
  remedy = 'Export the raster again',
): never {
  throw new Refusal({ code, where, found, expected, effect: 'The raster was not read', remedy });
}

/** '300 bytes', '2.5 MB', '40 GB'. */
export function sizeText(bytes: number): string {
  const [unit, per] = bytes >= 1e9 ? ['GB', 1e9] : bytes >= 1e6 ? ['MB', 1e6] : ['bytes', 1];
  return `${Number((bytes / per).toPrecision(3))} ${unit}`;
}
