import { parted } from '../jobs/find-files.ts';
import type { SourceSaid } from '../plan/source-said.ts';
import { fileAndWord, namedBy } from './plan-files.ts';

/** Words of the command line about how files are to be read: `FILE=word`, or the file alone. */
export interface ReadingWords {
  readonly crs?: readonly string[];
  readonly acceptNad27?: readonly string[];
  readonly swapLonLat?: readonly string[];
  readonly encoding?: readonly string[];
  readonly headerLine?: readonly string[];
  /** `FILE=COLUMN:thousands` or `FILE=COLUMN:decimals`. */
  readonly commas?: readonly string[];
  readonly rowsInOrder?: readonly string[];
}

/** What is said of each of some files, by its path. */
export function readingSaid(
  words: ReadingWords,
  names: readonly string[],
): Record<string, Partial<SourceSaid>> {
  const paths = [...new Set(names.map((name) => parted(name).path))];
  return Object.fromEntries(paths.map((path) => [path, saidOf(words, path, paths)]));
}

function saidOf(words: ReadingWords, path: string, paths: readonly string[]): Partial<SourceSaid> {
  const after = (said: readonly string[] | undefined): string[] =>
    (said ?? []).flatMap((text) => {
      const meant = fileAndWord(paths, text);
      return meant?.files.includes(path) ? [meant.word] : [];
    });
  const isMeant = (said: readonly string[] | undefined): boolean =>
    said?.some((own) => namedBy(paths, own).includes(path)) ?? false;
  const [crs] = after(words.crs);
  const [encoding] = after(words.encoding);
  const [headerLine] = after(words.headerLine);
  const commas = after(words.commas).map((text) => {
    const cut = text.lastIndexOf(':');
    return [text.slice(0, cut), text.slice(cut + 1) as 'thousands' | 'decimals'];
  });
  return {
    ...(crs === undefined ? {} : { crs }),
    ...(encoding === undefined ? {} : { encoding }),
    ...(headerLine === undefined ? {} : { headerLine: Number(headerLine) }),
    ...(commas.length === 0 ? {} : { commas: Object.fromEntries(commas) }),
    ...(isMeant(words.acceptNad27) ? { acceptNad27: true } : {}),
    ...(isMeant(words.swapLonLat) ? { swapLonLat: true } : {}),
    ...(isMeant(words.rowsInOrder) ? { rowsInOrder: true } : {}),
  };
}
