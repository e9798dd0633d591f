import type { Issue } from '../../engine/issue.ts';
import type { FileBytes } from '../file-bytes.ts';
import { plainText } from '../text/decode.ts';

/** How an XML declaration begins is ASCII in every encoding that is not UTF-16. */
const DECLARED = /^<\?xml\s[^>]{0,100}?encoding\s{0,9}=\s{0,9}["']([\w.:-]{1,40})["']/;

/** The text of an XML file: by its byte-order mark, else as declared, else UTF-8 if valid, else Windows-1252 with a warning. */
export function xmlText(file: FileBytes): { text: string; issues: Issue[] } {
  const { bytes, encoding, guessed } = plainText(file.bytes);
  const declared = DECLARED.exec(new TextDecoder('windows-1252').decode(bytes.subarray(0, 256)))?.[1] ?? '';
  const text = /^(|utf-?(8|16.*))$/i.test(declared) ? null : decodeAs(declared, bytes);
  if (text !== null) return { text, issues: [] };
  return {
    text: new TextDecoder(encoding).decode(bytes),
    issues: guessed ? [guessedEncoding(file.name)] : [],
  };
}

function decodeAs(label: string, bytes: Uint8Array): string | null {
  try {
    return new TextDecoder(label, { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

function guessedEncoding(where: string): Issue {
  return {
    code: 'code-page-guessed',
    severity: 'warning',
    where,
    found: 'text that is not in the encoding it should be in',
    expected: 'UTF-8',
    effect: 'Text beyond plain ASCII is read as Windows-1252 and may show wrong letters',
    remedy: 'Look at the names; save the file as UTF-8 if they are wrong',
  };
}
