import { decodePage } from '../text/code-pages.ts';

/**
 * The path of a zip member as text: UTF-8 where it is marked so or valid, else code page 437, in which names without a mark are written
 * (APPNOTE.TXT, appendix D).
 */
export function writtenName(raw: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(raw).normalize('NFC');
  } catch {
    return decodePage(raw, 'cp437');
  }
}

/** A member's path made harmless: forward slashes, no `.` or `..` or drive parts, and only letters, digits, blanks and `._-()` in each part. */
export function memberName(raw: Uint8Array): string {
  return writtenName(raw)
    .split(/[/\\]/)
    .filter((part) => part !== '' && part !== '.' && part !== '..' && !/^[A-Za-z]:$/.test(part))
    .map((part) => part.replace(/[^\p{L}\p{M}\p{N} ._()-]/gu, '_').slice(0, 120))
    .join('/');
}

/** Files that desktop systems leave in archives; never data. */
export function isSystemLitter(name: string): boolean {
  return /(^|\/)(__MACOSX\/|\.DS_Store$|Thumbs\.db$|desktop\.ini$|\._)/i.test(name);
}
