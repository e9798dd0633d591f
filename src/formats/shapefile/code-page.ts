import type { Issue } from '../../engine/issue.ts';
import { isUtf8 } from '../text/decode.ts';
import { textDecoder, UTF_8, WINDOWS_1252 } from '../text/encoding.ts';

/** Language byte of a .dbf to the code page of its text (the list dBASE and its successors share, as GDAL reads it). */
const LANGUAGE: Record<number, string> = {
  ...bytesOf('cp437', [1, 9, 11, 13, 15, 17, 21, 24, 25, 27]),
  ...bytesOf('cp850', [2, 10, 14, 16, 18, 20, 22, 26, 29, 37, 55]),
  ...bytesOf('cp852', [31, 34, 35, 64, 100, 135]),
  ...bytesOf('ibm866', [38, 101]),
  ...bytesOf('shift_jis', [19, 123]),
  ...bytesOf('gbk', [77, 122]),
  ...bytesOf('euc-kr', [78, 121]),
  ...bytesOf('big5', [79, 120]),
  ...bytesOf('windows-874', [80, 124]),
  ...bytesOf('windows-1252', [3, 87, 88, 89]),
  ...bytesOf('windows-1250', [200]),
  ...bytesOf('windows-1251', [201]),
  ...bytesOf('windows-1254', [202]),
  ...bytesOf('windows-1253', [203]),
  ...bytesOf('windows-1257', [204]),
};

function bytesOf(label: string, bytes: readonly number[]): Record<number, string> {
  return Object.fromEntries(bytes.map((byte) => [byte, label]));
}

/**
 * How to decode the text of a .dbf: .cpg, then the language byte, then what the caller `given`, then UTF-8 if `sample` (all its non-ASCII text)
 * is valid UTF-8, then Windows-1252. Issues only when there is non-ASCII text and it had to be guessed.
 */
export function dbfDecoder(
  cpg: string | null,
  language: number,
  sample: readonly Uint8Array[],
  where: string,
  given?: string,
): { decode: (bytes: Uint8Array) => string; issues: Issue[] } {
  if (sample.length === 0) return { decode: UTF_8.decode, issues: [] };
  const valid = sample.every(isUtf8);
  for (const label of [cpg ?? LANGUAGE[language], given]) {
    const decoder = label === undefined ? null : textDecoder(label);
    if (decoder && (decoder.label !== 'utf-8' || valid)) return { decode: decoder.decode, issues: [] };
  }
  const { label, decode } = valid ? UTF_8 : WINDOWS_1252;
  const said = cpg !== null ? `the code page '${cpg.trim().slice(0, 40)}'` : `language byte ${language}`;
  const issue: Issue = {
    code: 'code-page-guessed',
    severity: 'warning',
    where,
    found: `${said} with letters beyond ASCII, such as '${decode(sample[0]).slice(0, 40)}'`,
    expected: 'a code page that is known and fits the text',
    effect: `The text is read as ${label}`,
    remedy: 'State the code page, or add a .cpg file holding it, if letters look wrong',
  };
  return { decode, issues: [issue] };
}
