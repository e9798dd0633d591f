import { plainText } from '../text/decode.ts';

/** What stands before the content of an XML text. */
export interface Prolog {
  /** Where `<!DOCTYPE` stands; −1 without one. */
  readonly doctypeAt: number;
  /** Local name of the root element, or that a document type promises; null when there is neither. */
  readonly root: string | null;
}

const NAME = /[\w.:-]{1,100}/y;
/** A root or a document type further in than this is found by reading, not by a look. */
const LOOK_BYTES = 65_536;

/** Goes over blanks, the declaration, processing instructions and comments. A document type ends the search. */
export function prologOf(text: string): Prolog {
  for (let at = 0; at < text.length; at++) {
    if (text.charCodeAt(at) <= 32) continue;
    if (text.startsWith('<?', at)) at = endOf(text, '?>', at);
    else if (text.startsWith('<!--', at)) at = endOf(text, '-->', at);
    else if (/^<!(DOCTYPE|ENTITY)/i.test(text.slice(at, at + 9))) {
      const name = /^\s{1,20}([\w.:-]{1,100})/.exec(text.slice(at + 9, at + 130))?.[1];
      return { doctypeAt: at, root: name ? localName(name) : null };
    } else {
      NAME.lastIndex = at + 1;
      const name = text[at] === '<' ? NAME.exec(text)?.[0] : undefined;
      return { doctypeAt: -1, root: name ? localName(name) : null };
    }
  }
  return { doctypeAt: -1, root: null };
}

/** Root name of a file by its first bytes; null for what is no XML as far as that shows. */
export function rootName(bytes: Uint8Array): string | null {
  const head = plainText(bytes.subarray(0, LOOK_BYTES)).bytes;
  return prologOf(new TextDecoder().decode(head)).root;
}

/** True for a file that begins as markup does. */
export function looksLikeMarkup(bytes: Uint8Array): boolean {
  return plainText(bytes.subarray(0, 256)).bytes.find((byte) => byte > 32) === 0x3c;
}

/** A name without its prefix. */
export function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

/** Index of the last letter of `mark`, the end of the text when there is none. */
function endOf(text: string, mark: string, from: number): number {
  const found = text.indexOf(mark, from);
  return found < 0 ? text.length : found + mark.length - 1;
}
