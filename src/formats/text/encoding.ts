import { decodePage, isCodePage } from './code-pages.ts';

export interface TextEncoding {
  /** `utf-8`, `windows-1252`, `cp850`. */
  readonly label: string;
  readonly decode: (bytes: Uint8Array) => string;
}

export const UTF_8 = platformDecoder('utf-8');
export const WINDOWS_1252: TextEncoding = {
  label: 'windows-1252',
  decode: (bytes) => decodePage(bytes, 'windows-1252'),
};

/** The encoding people mean by a code page's name (`UTF-8`, `ANSI 1252`, `8859_1`, `850`), null for one that is not known. */
export function textDecoder(named: string): TextEncoding | null {
  const label = labelOf(named);
  if (label === null) return null;
  if (isCodePage(label)) return { label, decode: (bytes) => decodePage(bytes, label) };
  return platformDecoder(label);
}

function platformDecoder(label: string): TextEncoding {
  const decoder = new TextDecoder(label);
  return { label, decode: (bytes) => decoder.decode(bytes) };
}

function labelOf(named: string): string | null {
  const key = named.toLowerCase().replace(/[^a-z0-9]/g, '');
  if (/^(utf8|cp65001|65001)$/.test(key)) return 'utf-8';
  if (/^(88591|iso88591|latin1)$/.test(key)) return 'windows-1252';
  const page = /^(?:ansi|cp|ibm|oem|dos|windows|msdos)?(\d{3,4})$/.exec(key)?.[1];
  if (page && /^125[0-8]$/.test(page)) return `windows-${page}`;
  if (page === '866') return 'ibm866';
  if (page && isCodePage(`cp${page}`)) return `cp${page}`;
  const iso = /^(?:iso)?8859(\d{1,2})$/.exec(key);
  try {
    return new TextDecoder(iso ? `iso-8859-${iso[1]}` : named.trim()).encoding;
  } catch {
    return null;
  }
}
