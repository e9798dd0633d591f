import { type Crs, crsFromEpsg, WGS84 } from '../../engine/geodesy/crs.ts';
import { refuseJson } from './scan.ts';

/**
 * The system named by a `crs` member of the 2008 form of the format; WGS 84 without one (RFC 7946, section 4).
 * Names: CRS84, EPSG:n, urn:ogc:def:crs:EPSG::n, http://www.opengis.net/def/crs/EPSG/0/n. Throws for any other.
 */
export function crsOfMember(member: unknown, where: string): Crs {
  if (member === undefined || member === null) return WGS84;
  const name = nameOf(member);
  if (/(^|[:/])CRS84$/i.test(name)) return WGS84;
  const code =
    /^(?:EPSG:|urn:(?:x-)?ogc:def:crs:EPSG:[\d.]*:|https?:\/\/www\.opengis\.net\/def\/crs\/EPSG\/[\d.]+\/)(\d{4,6})$/i.exec(
      name,
    );
  const crs = code ? (Number(code[1]) === 4326 ? WGS84 : crsFromEpsg(Number(code[1]))) : null;
  if (crs) return crs;
  return refuseJson(
    'crs-unknown',
    `${where} › crs`,
    name === '' ? 'a coordinate system without a name' : `'${name.slice(0, 80)}'`,
    'CRS84 or an EPSG code that is known here',
    'Export it in WGS 84 degrees',
  );
}

function nameOf(member: unknown): string {
  if (typeof member !== 'object' || member === null || !('properties' in member)) return '';
  const { properties } = member;
  if (typeof properties !== 'object' || properties === null || !('name' in properties)) return '';
  return typeof properties.name === 'string' ? properties.name.trim() : '';
}
