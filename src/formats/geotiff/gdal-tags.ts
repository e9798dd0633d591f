import { type Directory, type TifFile, textOf } from './directory.ts';
import { refuseTif } from './tif-refusal.ts';

/** What a band's stored numbers mean: value = stored · scale + offset. */
export interface BandMeaning {
  readonly name: string | null;
  readonly scale: number;
  readonly offset: number;
}

/** Names, scales and offsets from the XML of tag 42112, for each band; a scale that is no number is refused, for its values would mean nothing. */
export function bandMeanings(
  tif: TifFile,
  directory: Directory,
  samples: number,
  where: string,
): BandMeaning[] {
  const text = textOf(tif, directory, 42112) ?? '';
  const items = new Map<string, string>();
  for (const [, head, content] of text.matchAll(/<Item\s([^>]*)>([^<]*)<\/Item>/g)) {
    const attributes = new Map(
      [...head.matchAll(/(\w+)\s*=\s*"([^"]*)"/g)].map(([, key, value]) => [key, value]),
    );
    const role = attributes.get('role') || attributes.get('name')?.toLowerCase();
    const sample = attributes.get('sample');
    if (role && sample !== undefined) items.set(`${Number(sample)} ${role}`, unescaped(content.trim()));
  }
  const number = (band: number, role: string, otherwise: number) => {
    const stated = items.get(`${band} ${role}`);
    if (stated === undefined) return otherwise;
    if (stated !== '' && Number.isFinite(Number(stated))) return Number(stated);
    return refuseTif(
      'tif-structure',
      `${where} › band ${band + 1}`,
      `${role} '${stated.slice(0, 40)}'`,
      'a number',
    );
  };
  return Array.from({ length: samples }, (_, band) => ({
    name: items.get(`${band} description`) || null,
    scale: number(band, 'scale', 1),
    offset: number(band, 'offset', 0),
  }));
}

/** The stored number that stands for no data, from the text of tag 42113; null when none is declared. */
export function declaredNoData(tif: TifFile, directory: Directory, where: string): number | null {
  const text = textOf(tif, directory, 42113)?.trim();
  if (!text) return null;
  if (/^[-+]?nan/i.test(text)) return NaN;
  if (/^[-+]?inf/i.test(text)) return text.startsWith('-') ? -Infinity : Infinity;
  const value = Number(text);
  if (!Number.isNaN(value)) return value;
  return refuseTif('tif-structure', where, `'${text.slice(0, 40)}' as the number for no data`, 'a number');
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

function unescaped(text: string): string {
  return text.replace(/&(amp|lt|gt|quot|apos);/g, (_, name: string) => ENTITIES[name]);
}
