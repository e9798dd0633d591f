import type { Issue } from '../engine/issue.ts';
import type { FileBytes } from './file-bytes.ts';

const AS_LAYER = 'Export it as a shapefile or GeoJSON';
const AS_TABLE = 'Export it as CSV, a shapefile or GeoJSON';

interface Kind {
  /** First bytes as Latin-1. */
  readonly begins: readonly string[];
  readonly kind: string;
  readonly remedy: string;
}

const KINDS: readonly Kind[] = [
  {
    begins: ['SQLite format 3\0'],
    kind: 'a GeoPackage or other SQLite database (not read yet)',
    remedy: AS_LAYER,
  },
  {
    begins: ['II*\0', 'II+\0', 'MM\0*', 'MM\0+'],
    kind: 'a TIFF or GeoTIFF raster (not read yet)',
    remedy: 'Export it as points in CSV',
  },
  { begins: ['%PDF'], kind: 'a PDF document', remedy: 'Hand over the data it was printed from' },
  {
    begins: ['\x89PNG', '\xff\xd8\xff', 'GIF8'],
    kind: 'a picture (PNG, JPEG or GIF)',
    remedy: 'Hand over the data it was drawn from',
  },
  {
    begins: ['\xd0\xcf\x11\xe0'],
    kind: 'an old spreadsheet or office document',
    remedy: 'Save the sheet as CSV',
  },
  {
    begins: ['\x1f\x8b', '7z\xbc\xaf', 'Rar!'],
    kind: 'an archive that is no zip',
    remedy: 'Unpack it, or use a zip',
  },
  { begins: ['PAR1', 'fgb\x03fgb'], kind: 'a Parquet or FlatGeobuf file', remedy: AS_TABLE },
];

/** The same for markup, after a byte-order mark and blanks, in lower case. */
const MARKUP: readonly Kind[] = [
  {
    begins: ['<!doctype html', '<html', '<head', '<body'],
    kind: 'a web page, perhaps an error page from a download',
    remedy: 'Download the file again and look at what comes',
  },
  { begins: ['<?xml', '<kml', '<!--'], kind: 'an XML document such as KML (not read yet)', remedy: AS_LAYER },
];

/** An error for a file that is plainly something else, null when it may be data. */
export function foreignIssue(file: FileBytes): Issue | null {
  const expected = 'a shapefile, GeoJSON or CSV, zipped or not';
  const effect = 'The file was not read';
  const base = { severity: 'error', where: file.name, expected, effect } as const;
  if (file.bytes.length === 0) {
    return { ...base, code: 'file-empty', found: '0 bytes', remedy: 'Copy or export the file again' };
  }
  const head = Array.from(file.bytes.subarray(0, 256), (byte) => String.fromCharCode(byte)).join('');
  const markup = head
    .replace(/^\xef\xbb\xbf/, '')
    .trimStart()
    .toLowerCase();
  const match =
    KINDS.find(({ begins }) => begins.some((start) => head.startsWith(start))) ??
    MARKUP.find(({ begins }) => begins.some((start) => markup.startsWith(start)));
  return match ? { ...base, code: 'file-foreign', found: match.kind, remedy: match.remedy } : null;
}

/** What an archive that is a document in zip's clothing is, null for a plain archive. */
export function foreignArchive(archive: FileBytes, members: readonly string[]): Issue | null {
  const office = members.includes('[Content_Types].xml') || members.includes('_Content_Types_.xml');
  const google = members.some((name) => /\.kml$/i.test(name));
  const open = members.includes('mimetype') && members.includes('content.xml');
  if (!office && !google && !open) return null;
  return {
    code: 'file-foreign',
    severity: 'error',
    where: archive.name,
    found: google ? 'a KMZ archive (not read yet)' : 'a spreadsheet or office document',
    expected: 'a shapefile, GeoJSON or CSV, zipped or not',
    effect: 'The file was not read',
    remedy: google ? AS_LAYER : 'Save the sheet as CSV',
  };
}
