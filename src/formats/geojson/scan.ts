import { Refusal } from '../../engine/issue.ts';

const MAX_DEPTH = 100;

export function refuseJson(
  code: string,
  where: string,
  found: string,
  expected: string,
  remedy: string,
): never {
  throw new Refusal({ code, where, found, expected, effect: 'The file was not read', remedy });
}

/**
 * One pass over the bytes before parsing: brackets that do not match or are cut off, nesting deep enough to
 * exhaust the parser, and NaN or Infinity, each refused with its line and column.
 */
export function scanJson(bytes: Uint8Array, where: string): void {
  const open: number[] = [];
  let inText = false;
  for (let at = 0; at < bytes.length; at++) {
    const byte = bytes[at];
    if (inText) {
      if (byte === 0x5c) at++;
      else if (byte === 0x22) inText = false;
    } else if (byte === 0x22) inText = true;
    else if (byte === 0x7b || byte === 0x5b) {
      open.push(byte);
      if (open.length > MAX_DEPTH) {
        const found = `nesting deeper than ${MAX_DEPTH}`;
        refuseJson(
          'json-depth',
          place(bytes, at, where),
          found,
          'a plain feature collection',
          'Export it again',
        );
      }
    } else if (byte === 0x7d || byte === 0x5d) {
      const start = open.pop();
      if (start === undefined || byte - start !== 2) {
        const found = `a closing ${String.fromCharCode(byte)} that matches nothing`;
        refuseJson('json-syntax', place(bytes, at, where), found, 'matching brackets', 'Export it again');
      }
    } else if (byte === 0x4e || byte === 0x49) {
      const found = byte === 0x4e ? 'NaN' : 'Infinity';
      refuseJson(
        'json-number',
        place(bytes, at, where),
        found,
        'numbers or null',
        'Write null where nothing is known',
      );
    }
  }
  if (inText || open.length > 0) {
    const found = `the end of the file with ${inText ? 'a text' : `${open.length} brackets`} left open`;
    refuseJson(
      'json-truncated',
      place(bytes, bytes.length, where),
      found,
      'a whole file',
      'Copy or download it again',
    );
  }
}

/** 'file › line 3:17', columns counted in bytes from 1. */
export function place(bytes: Uint8Array, at: number, where: string): string {
  let line = 1;
  let start = 0;
  for (let i = 0; i < at; i++) {
    if (bytes[i] !== 10) continue;
    line++;
    start = i + 1;
  }
  return `${where} › line ${line}:${at - start + 1}`;
}
