import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { cruise, type ICruiseResult } from 'dependency-cruiser';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '..');
const src = join(root, 'src');

/** Rooms and what each may open, as the house is drawn in DEVELOPERS.md. */
const ROOMS: Readonly<Record<string, readonly string[]>> = {
  engine: [],
  plan: ['engine'],
  run: ['plan', 'engine'],
  formats: ['engine'],
  jobs: ['run', 'plan', 'formats', 'engine'],
  cli: ['jobs', 'run', 'plan', 'formats', 'engine'],
  app: ['jobs', 'run', 'plan', 'formats', 'engine'],
};

/** Folders of the engine and what each may open; nothing looks back up the stairs. */
const ENGINE: Readonly<Record<string, readonly string[]>> = {
  math: [],
  geodesy: ['math', 'geometry'],
  geometry: ['math'],
  grid: ['geometry', 'geodesy', 'math'],
  layers: ['grid', 'geometry', 'geodesy', 'math'],
  harvest: ['layers', 'grid', 'geometry', 'math'],
  zones: ['layers', 'grid', 'geometry', 'math'],
  response: ['math'],
  lineup: ['response', 'math'],
  rates: ['lineup', 'response', 'zones', 'math'],
  prescription: ['rates', 'lineup', 'zones', 'layers', 'grid', 'geometry', 'geodesy', 'math'],
};

const sources = readdirSync(src, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && /\.(ts|svelte|mjs)$/.test(entry.name))
  .map((entry) => relative(root, join(entry.parentPath, entry.name)).replaceAll('\\', '/'));

const forbidden = [
  {
    name: 'no-circle',
    severity: 'error' as const,
    from: {},
    to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only' as const] } },
  },
  ...walls('^src/', ROOMS),
  ...walls('^src/engine/', ENGINE),
];

function walls(under: string, rooms: Readonly<Record<string, readonly string[]>>) {
  return Object.entries(rooms).map(([room, open]) => ({
    name: `${room}-opens-only-${open.join('-') || 'itself'}`,
    severity: 'error' as const,
    from: { path: `${under}${room}/` },
    // A room's own files and files that stand beside the rooms (issue.ts, index.ts) are always open.
    to: { path: `${under}[^/]+/`, pathNot: `${under}(${[room, ...open].join('|')})/` },
  }));
}

describe('the house', () => {
  it('has its arrows pointing one way (dependency-cruiser)', async () => {
    const { output } = await cruise(['src'], {
      baseDir: root,
      doNotFollow: { path: 'node_modules' },
      exclude: { path: 'node_modules' },
      tsPreCompilationDeps: true,
      validate: true,
      ruleSet: { forbidden },
      enhancedResolveOptions: { extensions: ['.ts', '.svelte', '.mjs', '.js'] },
    });
    const { summary, modules } = output as ICruiseResult;
    expect(modules.length).toBeGreaterThan(80);
    expect(
      summary.violations.map((violation) => `${violation.rule.name}: ${violation.from} → ${violation.to}`),
    ).toEqual([]);
  }, 60_000);

  it('keeps clock, chance and machine out of the engine', () => {
    const names =
      /\b(Date|Math\.random|process|document|window|console|fetch|performance|setTimeout|localStorage)\b\s*[.(]/;
    const engine = sources.filter((file) => file.startsWith('src/engine/'));
    expect(engine.length).toBeGreaterThan(40);
    expect(engine.filter((file) => names.test(withoutComments(read(file))))).toEqual([]);
  });

  it('writes no raw HTML and no inline style', () => {
    expect(
      sources.filter((file) => /\{@html|innerHTML|insertAdjacentHTML|setHTML\(/.test(read(file))),
    ).toEqual([]);
    expect(sources.filter((file) => file.endsWith('.svelte') && /<[^>]*\sstyle="/.test(read(file)))).toEqual(
      [],
    );
  });

  it('has no file named for nothing, and none too long to be one idea', () => {
    expect(
      sources.filter((file) =>
        /(^|\/)(utils?|helpers?|common|misc|manager|service)\.(ts|svelte)$/.test(file),
      ),
    ).toEqual([]);
    const long = sources.filter(
      (file) => read(file).split('\n').length > (file.endsWith('.svelte') ? 250 : 320),
    );
    expect(long).toEqual([]);
  });
});

function read(file: string): string {
  return readFileSync(join(root, file), 'utf8');
}

function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/\/\/.*$/gm, '');
}
