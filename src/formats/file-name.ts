const RESERVED = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])$/i;

/**
 * A name any system and any field device takes: A–Z a–z 0–9 . _ - only, at most 80 characters, no leading or
 * trailing dot, none of the names old systems keep for devices. Never empty.
 */
export function safeFileName(name: string): string {
  const plain = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9._-]+/g, '_')
    .replace(/\.{2,}/g, '.')
    .slice(0, 80);
  let from = 0;
  let to = plain.length;
  while (from < to && '._-'.includes(plain[from])) from++;
  while (to > from && '._-'.includes(plain[to - 1])) to--;
  const trimmed = plain.slice(from, to);
  if (trimmed === '') return 'unnamed';
  return RESERVED.test(trimmed.split('.')[0]) ? `file_${trimmed}` : trimmed;
}
