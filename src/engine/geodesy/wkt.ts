/** One element of well-known text: `KEYWORD["name", 1, CHILD[…]]`. */
export interface WktNode {
  /** Upper case. */
  readonly keyword: string;
  /** Quoted texts, numbers and bare words (axis directions), in their order. */
  readonly values: readonly (string | number)[];
  readonly children: readonly WktNode[];
}

/** The longest text and the deepest nesting accepted; the longest known system is some 5,000 characters, 8 deep. */
const MAX_LENGTH = 65536;
const MAX_DEPTH = 32;

const TOKEN = /\s*(?:"((?:[^"]|"")*)"|([[(])|([\])])|(,)|([^\s"[\](),]+))/y;

/**
 * The tree of a coordinate system text, OGC WKT 1 (both dialects) or WKT 2, or what is wrong with it in words.
 * Syntax by ISO 19162:2019, clause 6; round brackets are accepted as square ones, as there. A height system set after
 * the map's with a comma, as one dialect does, makes the two children of one COMPOUNDCRS.
 */
export function parseWkt(text: string): WktNode | string {
  if (text.length > MAX_LENGTH) return `${text.length} characters, more than ${MAX_LENGTH}`;
  const source = text.trim();
  if (source === '') return 'an empty text';
  const open: { keyword: string; values: (string | number)[]; children: WktNode[] }[] = [];
  const roots: WktNode[] = [];
  let word: string | null = null;
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < source.length) {
    const at = TOKEN.lastIndex;
    const token = TOKEN.exec(source);
    if (!token) return `unreadable at character ${at + 1}`;
    const [, quoted, opening, closing, comma, bare] = token;
    const top = open.at(-1);
    if (opening) {
      if (word === null) return `a bracket without a keyword at character ${at + 1}`;
      if (open.length === MAX_DEPTH) return `nested more than ${MAX_DEPTH} deep`;
      open.push({ keyword: word.toUpperCase(), values: [], children: [] });
      word = null;
      continue;
    }
    if (bare !== undefined && word === null) {
      word = bare;
      continue;
    }
    if (!top && comma && roots.length > 0) continue;
    if (!top) return `no coordinate system: the text begins “${source.slice(0, 40)}”`;
    if (bare !== undefined) return `a comma is missing at character ${at + 1}`;
    if (word !== null) {
      top.values.push(Number.isFinite(Number(word)) ? Number(word) : word);
      word = null;
    }
    if (quoted !== undefined) top.values.push(quoted.replaceAll('""', '"'));
    if (comma || !closing) continue;
    open.pop();
    (open.at(-1)?.children ?? roots).push(top);
  }
  if (open.length > 0) return 'cut short: brackets are left open';
  if (word !== null || roots.length === 0) return 'no coordinate system in it';
  return roots.length === 1 ? roots[0] : { keyword: 'COMPOUNDCRS', values: [], children: roots };
}

/** The first child with one of these keywords. */
export function child(node: WktNode, ...keywords: string[]): WktNode | undefined {
  return node.children.find((each) => keywords.includes(each.keyword));
}

/** The name an element carries, or an empty text. */
export function nameOf(node: WktNode | undefined): string {
  return node && typeof node.values[0] === 'string' ? node.values[0] : '';
}

/** The nth value as a number, NaN when it is not one. */
export function numberAt(node: WktNode | undefined, index: number): number {
  const value = node?.values[index];
  return typeof value === 'number' ? value : Number.NaN;
}
