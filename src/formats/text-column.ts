import type { TextColumn } from '../engine/layers/source.ts';

/** Texts as a coded column, null where there is none. */
export function textColumnOf(name: string, texts: readonly (string | null)[]): TextColumn {
  const known = new Map<string, number>();
  const codes = Int32Array.from(texts, (text) => {
    if (text === null) return -1;
    const code = known.get(text) ?? known.size;
    known.set(text, code);
    return code;
  });
  return { name, kind: 'text', codes, levels: [...known.keys()] };
}
