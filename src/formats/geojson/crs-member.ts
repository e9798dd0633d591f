import { statedCrs, WGS84 } from '../../engine/geodesy/crs.ts';
import type { SettledCrs } from '../crs-check.ts';
import type { ReadOptions } from '../format.ts';

/**
 * The system named by a `crs` member of the 2008 form of the format; WGS 84 without one (RFC 7946, section 4). Names: CRS84, EPSG:n,
 * urn:ogc:def:crs:EPSG::n, http://www.opengis.net/def/crs/EPSG/0/n. Any other, and one not verified here, is none, with an error.
 */
export function crsOfMember(member: unknown, where: string, options: ReadOptions): SettledCrs {
  if (member === undefined || member === null) return { crs: WGS84, issues: [] };
  const name = nameOf(member);
  if (/(^|[:/])CRS84$/i.test(name)) return { crs: WGS84, issues: [] };
  const code =
    /^(?:EPSG:|urn:(?:x-)?ogc:def:crs:EPSG:[\d.]*:|https?:\/\/www\.opengis\.net\/def\/crs\/EPSG\/[\d.]+\/)(\d{4,6})$/i.exec(
      name,
    );
  const stated = code ? statedCrs(Number(code[1]), `${where} › crs`, options) : null;
  if (stated && !stated.issues.some((issue) => issue.code === 'crs-not-supported')) return stated;
  const issue = {
    code: 'crs-unknown',
    severity: 'error' as const,
    where: `${where} › crs`,
    found: name === '' ? 'a coordinate system without a name' : `'${name.slice(0, 80)}'`,
    expected: 'CRS84 or an EPSG code that is known here',
    effect: 'The layer has no place on the ground and is not used',
    remedy: 'Export it in WGS 84 degrees',
  };
  return { crs: null, issues: [issue] };
}

function nameOf(member: unknown): string {
  if (typeof member !== 'object' || member === null || !('properties' in member)) return '';
  const { properties } = member;
  if (typeof properties !== 'object' || properties === null || !('name' in properties)) return '';
  return typeof properties.name === 'string' ? properties.name.trim() : '';
}
