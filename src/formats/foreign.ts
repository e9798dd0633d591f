import type { Issue } from '../engine/issue.ts';
import type { FileBytes } from './file-bytes.ts';
import { isTaskFile } from './iso11783/members.ts';
import { rootName } from './xml/prolog.ts';

/** What can be handed over, in the words of every refusal of something else. */
export const READ_HERE = 'a shapefile, GeoJSON, KML, GeoTIFF, ISO 11783-10 task file or CSV, zipped or not';

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
  {
    begins: ['<?xml', '<!--', '<!doctype'],
    kind: 'an XML document of a kind that is not read',
    remedy: AS_LAYER,
  },
];

/** An error for a file that is plainly something else, null when it may be data. */
export function foreignIssue(file: FileBytes): Issue | null {
  const expected = READ_HERE;
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
    (isReadXml(file)
      ? undefined
      : MARKUP.find(({ begins }) => begins.some((start) => markup.startsWith(start))));
  return match ? { ...base, code: 'file-foreign', found: match.kind, remedy: match.remedy } : null;
}

/** Markup of a format that is read has its own reader to say what is wrong with it; a web page under such a name is still a web page. */
function isReadXml({ name, bytes }: FileBytes): boolean {
  const root = rootName(bytes);
  if (root === null) return /\.kml$/i.test(name) || isTaskFile(name);
  return (
    root === 'kml' || root === 'ISO11783_TaskData' || (root.toLowerCase() !== 'html' && /\.kml$/i.test(name))
  );
}

/** What an archive that is a document in zip's clothing is, null for a plain archive. */
export function foreignArchive(archive: FileBytes, members: readonly string[]): Issue | null {
  const office = members.includes('[Content_Types].xml') || members.includes('_Content_Types_.xml');
  const open = members.includes('mimetype') && members.includes('content.xml');
  if (!office && !open) return null;
  return {
    code: 'file-foreign',
    severity: 'error',
    where: archive.name,
    found: 'a spreadsheet or office document',
    expected: READ_HERE,
    effect: 'The file was not read',
    remedy: 'Save the sheet as CSV',
  };
}
