import type { Issue } from '../../engine/issue.ts';
import { isUtf8 } from '../text/decode.ts';

/** Language byte of a .dbf to an encoding the platform can decode (dBASE and later lists; DOS pages are not among them). */
const LANGUAGE: Record<number, string> = {
  3: 'windows-1252',
  19: 'shift_jis',
  77: 'gbk',
  78: 'euc-kr',
  79: 'big5',
  87: 'windows-1252',
  88: 'windows-1252',
  89: 'windows-1252',
  101: 'ibm866',
  38: 'ibm866',
  200: 'windows-1250',
  201: 'windows-1251',
  202: 'windows-1254',
  203: 'windows-1253',
};

/**
 * How to decode the text of a .dbf: .cpg, then the language byte, then UTF-8 if `sample` (all its non-ASCII text)
 * is valid UTF-8, then Windows-1252. Issues only when there is non-ASCII text and it had to be guessed.
 */
export function dbfDecoder(
  cpg: string | null,
  language: number,
  sample: readonly Uint8Array[],
  where: string,
): { decode: (bytes: Uint8Array) => string; issues: Issue[] } {
  const stated = cpg === null ? (LANGUAGE[language] ?? null) : labelOf(cpg);
  if (sample.length === 0) return { decode: decoder('utf-8'), issues: [] };
  const valid = sample.every(isUtf8);
  if (stated !== null && (stated !== 'utf-8' || valid)) return { decode: decoder(stated), issues: [] };
  const label = valid ? 'utf-8' : 'windows-1252';
  const said = cpg !== null ? `the code page '${cpg.trim().slice(0, 40)}'` : `language byte ${language}`;
  const issue: Issue = {
    code: 'code-page-guessed',
    severity: 'warning',
    where,
    found: `${said} with letters beyond ASCII`,
    expected: 'a code page that is known and fits the text',
    effect: `The text is read as ${label}`,
    remedy: 'Add a .cpg file holding UTF-8 or the right code page if letters look wrong',
  };
  return { decode: decoder(label), issues: [issue] };
}

function decoder(label: string): (bytes: Uint8Array) => string {
  const text = new TextDecoder(label);
  return (bytes) => text.decode(bytes);
}

function labelOf(cpg: string): string | null {
  const key = cpg.toLowerCase().replace(/[^a-z0-9]/g, '');
  if (/^(utf8|cp65001|65001)$/.test(key)) return 'utf-8';
  if (/^(88591|iso88591|latin1|ansi1252|cp1252|1252|windows1252)$/.test(key)) return 'windows-1252';
  const windows = /^(?:ansi|cp|windows)?(125[0-8])$/.exec(key);
  if (windows) return `windows-${windows[1]}`;
  const iso = /^(?:iso)?8859(\d{1,2})$/.exec(key);
  try {
    return new TextDecoder(iso ? `iso-8859-${iso[1]}` : cpg.trim()).encoding;
  } catch {
    return null;
  }
}
