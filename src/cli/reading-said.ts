import { parted } from '../jobs/find-files.ts';
import type { SourceSaid } from '../jobs/read-file.ts';
import { namedBy } from './plan-files.ts';

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
  const paths = new Set(names.map((name) => parted(name).path));
  const isNamed = (path: string, said: string) => namedBy([...paths], said).includes(path);
  return Object.fromEntries([...paths].map((path) => [path, saidOf(words, path, isNamed)]));
}

type IsNamed = (path: string, said: string) => boolean;

function saidOf(words: ReadingWords, path: string, isNamed: IsNamed): Partial<SourceSaid> {
  const [crs] = after(words.crs, path, isNamed);
  const [encoding] = after(words.encoding, path, isNamed);
  const [headerLine] = after(words.headerLine, path, isNamed);
  const commas = after(words.commas, path, isNamed).map((text) => {
    const cut = text.lastIndexOf(':');
    return [text.slice(0, cut), text.slice(cut + 1) as 'thousands' | 'decimals'];
  });
  return {
    ...(crs === undefined ? {} : { crs }),
    ...(encoding === undefined ? {} : { encoding }),
    ...(headerLine === undefined ? {} : { headerLine: Number(headerLine) }),
    ...(commas.length === 0 ? {} : { commas: Object.fromEntries(commas) }),
    ...(isMeant(words.acceptNad27, path, isNamed) ? { acceptNad27: true } : {}),
    ...(isMeant(words.swapLonLat, path, isNamed) ? { swapLonLat: true } : {}),
    ...(isMeant(words.rowsInOrder, path, isNamed) ? { rowsInOrder: true } : {}),
  };
}

/** What follows `FILE=` where the file is meant; a name may hold a `=` of its own. */
function after(said: readonly string[] | undefined, path: string, isNamed: IsNamed): string[] {
  return (said ?? []).flatMap((text) => {
    for (let cut = text.indexOf('='); cut > 0; cut = text.indexOf('=', cut + 1))
      if (isNamed(path, text.slice(0, cut))) return [text.slice(cut + 1)];
    return [];
  });
}

function isMeant(said: readonly string[] | undefined, path: string, isNamed: IsNamed): boolean {
  return said?.some((own) => isNamed(path, own)) ?? false;
}
