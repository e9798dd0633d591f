import { Refusal } from '../../engine/issue.ts';

export function refuseShp(
  code: string,
  where: string,
  found: string,
  expected: string,
  remedy: string,
): never {
  throw new Refusal({ code, where, found, expected, effect: 'The layer was not read', remedy });
}

/** Finite, and not under the −1e38 that stands for "no data". */
export function isPlace(value: number): boolean {
  return value >= -1e38 && value < Number.POSITIVE_INFINITY;
}

export function shortRecord(where: string, record: number, found: number, needed: number): never {
  return refuseShp(
    'shp-record-length',
    `${where} › record ${record + 1}`,
    `${found} bytes`,
    `${needed} bytes`,
    'Export the layer again',
  );
}
