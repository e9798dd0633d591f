/**
 * The path of a zip member made harmless: forward slashes, no `.` or `..` or drive parts, NFC, and only letters,
 * digits, blanks and `._-()` in each part. Old archives without the UTF-8 flag are read as UTF-8 if valid.
 */
export function memberName(raw: Uint8Array): string {
  const parts = decodeName(raw).normalize('NFC').split(/[/\\]/);
  return parts
    .filter((part) => part !== '' && part !== '.' && part !== '..' && !/^[A-Za-z]:$/.test(part))
    .map((part) => part.replace(/[^\p{L}\p{M}\p{N} ._()-]/gu, '_').slice(0, 120))
    .join('/');
}

function decodeName(raw: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(raw);
  } catch {
    return new TextDecoder('windows-1252').decode(raw);
  }
}

/** Files that desktop systems leave in archives; never data. */
export function isSystemLitter(name: string): boolean {
  return /(^|\/)(__MACOSX\/|\.DS_Store$|Thumbs\.db$|desktop\.ini$|\._)/i.test(name);
}
